-- Entries are added and stay. Only what they say of an erased customer may be taken out, which also takes the salt away.
CREATE FUNCTION audit_is_append_only() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
	IF TG_OP = 'UPDATE' AND NEW.salt IS NULL
		AND (NEW.seq, NEW.id, NEW.at, NEW.actor_kind, NEW.kind, NEW.subject_table, NEW.subject_id, NEW.content_sha256, NEW.previous_sha256, NEW.sha256)
		= (OLD.seq, OLD.id, OLD.at, OLD.actor_kind, OLD.kind, OLD.subject_table, OLD.subject_id, OLD.content_sha256, OLD.previous_sha256, OLD.sha256)
		AND NEW.actor_id IS NOT DISTINCT FROM OLD.actor_id THEN
		RETURN NEW;
	END IF;
	RAISE EXCEPTION 'the audit log is append-only';
END
$$;
--> statement-breakpoint
CREATE TRIGGER audit_is_append_only BEFORE UPDATE OR DELETE ON audit FOR EACH ROW EXECUTE FUNCTION audit_is_append_only();
--> statement-breakpoint
CREATE TRIGGER audit_is_not_emptied BEFORE TRUNCATE ON audit FOR EACH STATEMENT EXECUTE FUNCTION audit_is_append_only();
