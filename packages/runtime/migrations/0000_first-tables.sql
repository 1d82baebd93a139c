CREATE TABLE "approvals" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"cast_id" text NOT NULL,
	"revision_id" text NOT NULL,
	"verdict" text NOT NULL,
	"reason" text,
	"fingerprint" text,
	"person_id" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "audit" (
	"seq" bigint PRIMARY KEY NOT NULL,
	"id" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"actor_kind" text NOT NULL,
	"actor_id" text,
	"kind" text NOT NULL,
	"subject_table" text NOT NULL,
	"subject_id" text NOT NULL,
	"content_sha256" text NOT NULL,
	"previous_sha256" text NOT NULL,
	"sha256" text NOT NULL,
	"content" text NOT NULL,
	"salt" text,
	CONSTRAINT "audit_id_unique" UNIQUE("id")
);
--> statement-breakpoint
CREATE TABLE "audit_rows" (
	"seq" bigint NOT NULL,
	"table_name" text NOT NULL,
	"row_id" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "batch_items" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"batch_id" text NOT NULL,
	"cast_id" text NOT NULL,
	"revision_id" text,
	"against_id" text,
	"comparison" jsonb,
	"verdict" text
);
--> statement-breakpoint
CREATE TABLE "batches" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"name" text NOT NULL,
	"rule_set_id" text NOT NULL,
	"filter" jsonb NOT NULL,
	"state" text NOT NULL,
	"person_id" text
);
--> statement-breakpoint
CREATE TABLE "casts" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"order_id" text NOT NULL,
	"side" text NOT NULL,
	"state" text NOT NULL,
	"arrived_at" timestamp (3) with time zone,
	"drying" jsonb,
	"photos" jsonb NOT NULL,
	"note" text,
	"recast_of_id" text,
	"current_revision_id" text,
	"approved_revision_id" text
);
--> statement-breakpoint
CREATE TABLE "customers" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"number" text NOT NULL,
	"name" text,
	"contact" text,
	"consent" jsonb,
	"retain_until" date,
	"erased_at" timestamp (3) with time zone,
	CONSTRAINT "customers_number_unique" UNIQUE("number")
);
--> statement-breakpoint
CREATE TABLE "decisions" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"scan_id" text NOT NULL,
	"content" jsonb NOT NULL,
	"sha256" text NOT NULL,
	"person_id" text
);
--> statement-breakpoint
CREATE TABLE "orders" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"number" text NOT NULL,
	"customer_id" text,
	"state" text NOT NULL,
	"content" jsonb NOT NULL,
	"discipline" text,
	CONSTRAINT "orders_number_unique" UNIQUE("number")
);
--> statement-breakpoint
CREATE TABLE "people" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"name" text NOT NULL,
	"display_name" text NOT NULL,
	"role" text NOT NULL,
	"password_hash" text,
	"state" text NOT NULL,
	CONSTRAINT "people_name_unique" UNIQUE("name")
);
--> statement-breakpoint
CREATE TABLE "revisions" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"cast_id" text NOT NULL,
	"scan_id" text NOT NULL,
	"rule_set_id" text NOT NULL,
	"decisions_id" text,
	"number" integer NOT NULL,
	"inputs_sha256" text NOT NULL,
	"origin" text NOT NULL,
	"batch_id" text,
	"state" text NOT NULL,
	"files" jsonb NOT NULL,
	"summary" jsonb,
	"refusal" jsonb,
	"story" jsonb NOT NULL,
	"fingerprint" text,
	"program_version" text,
	"ended_at" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "rule_sets" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"name" text NOT NULL,
	"number" integer NOT NULL,
	"content" jsonb NOT NULL,
	"sha256" text NOT NULL,
	"note" text,
	"person_id" text
);
--> statement-breakpoint
CREATE TABLE "scanner_checks" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"scanner_id" text NOT NULL,
	"at" timestamp (3) with time zone NOT NULL,
	"content" jsonb NOT NULL,
	"verdict" text NOT NULL
);
--> statement-breakpoint
CREATE TABLE "scanners" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"name" text NOT NULL,
	"retired_at" timestamp (3) with time zone,
	CONSTRAINT "scanners_name_unique" UNIQUE("name")
);
--> statement-breakpoint
CREATE TABLE "scans" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"cast_id" text NOT NULL,
	"file_name" text NOT NULL,
	"sha256" text NOT NULL,
	"size" bigint NOT NULL,
	"kind" text NOT NULL,
	"unit" text NOT NULL,
	"wall_mm" double precision,
	"side_override" boolean NOT NULL,
	"scanner_id" text,
	"person_id" text
);
--> statement-breakpoint
CREATE TABLE "tokens" (
	"id" text PRIMARY KEY NOT NULL,
	"version" integer NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"changed_at" timestamp (3) with time zone NOT NULL,
	"name" text NOT NULL,
	"scope" text NOT NULL,
	"sha256" text NOT NULL,
	"person_id" text,
	"expires_at" timestamp (3) with time zone,
	"revoked_at" timestamp (3) with time zone,
	CONSTRAINT "tokens_sha256_unique" UNIQUE("sha256")
);
--> statement-breakpoint
CREATE TABLE "jobs" (
	"id" text PRIMARY KEY NOT NULL,
	"kind" text NOT NULL,
	"subject_id" text NOT NULL,
	"priority" integer NOT NULL,
	"lane" text NOT NULL,
	"state" text NOT NULL,
	"attempts" integer DEFAULT 0 NOT NULL,
	"crashes" integer DEFAULT 0 NOT NULL,
	"turns" integer DEFAULT 0 NOT NULL,
	"not_before" timestamp (3) with time zone NOT NULL,
	"worker" text,
	"lease" text,
	"lease_until" timestamp (3) with time zone,
	"progress" jsonb,
	"preview" jsonb,
	"cancel_asked" boolean DEFAULT false NOT NULL,
	"fault" text,
	"story" jsonb NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"started_at" timestamp (3) with time zone,
	"ended_at" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "lanes" (
	"name" text PRIMARY KEY NOT NULL,
	"turn" bigint NOT NULL,
	"paused" boolean DEFAULT false NOT NULL
);
--> statement-breakpoint
CREATE TABLE "sessions" (
	"id" text PRIMARY KEY NOT NULL,
	"sha256" text NOT NULL,
	"person_id" text NOT NULL,
	"csrf" text NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL,
	"seen_at" timestamp (3) with time zone NOT NULL,
	"expires_at" timestamp (3) with time zone NOT NULL,
	CONSTRAINT "sessions_sha256_unique" UNIQUE("sha256")
);
--> statement-breakpoint
CREATE TABLE "sign_in_tries" (
	"key" text PRIMARY KEY NOT NULL,
	"count" integer NOT NULL,
	"since" timestamp (3) with time zone NOT NULL,
	"blocked_until" timestamp (3) with time zone
);
--> statement-breakpoint
CREATE TABLE "uploads" (
	"id" text PRIMARY KEY NOT NULL,
	"cast_id" text NOT NULL,
	"file_name" text NOT NULL,
	"size" bigint NOT NULL,
	"received" bigint NOT NULL,
	"particulars" jsonb NOT NULL,
	"person_id" text,
	"created_at" timestamp (3) with time zone NOT NULL,
	"expires_at" timestamp (3) with time zone NOT NULL
);
--> statement-breakpoint
CREATE INDEX "approvals_cast_id_created_at_index" ON "approvals" USING btree ("cast_id","created_at");--> statement-breakpoint
CREATE INDEX "audit_subject_table_subject_id_seq_index" ON "audit" USING btree ("subject_table","subject_id","seq");--> statement-breakpoint
CREATE INDEX "audit_at_index" ON "audit" USING btree ("at");--> statement-breakpoint
CREATE UNIQUE INDEX "audit_rows_table_name_row_id_seq_index" ON "audit_rows" USING btree ("table_name","row_id","seq");--> statement-breakpoint
CREATE UNIQUE INDEX "batch_items_batch_id_cast_id_index" ON "batch_items" USING btree ("batch_id","cast_id");--> statement-breakpoint
CREATE INDEX "batch_items_revision_id_index" ON "batch_items" USING btree ("revision_id");--> statement-breakpoint
CREATE INDEX "casts_order_id_index" ON "casts" USING btree ("order_id");--> statement-breakpoint
CREATE INDEX "casts_state_created_at_id_index" ON "casts" USING btree ("state","created_at","id");--> statement-breakpoint
CREATE INDEX "casts_created_at_id_index" ON "casts" USING btree ("created_at","id");--> statement-breakpoint
CREATE INDEX "decisions_scan_id_created_at_index" ON "decisions" USING btree ("scan_id","created_at");--> statement-breakpoint
CREATE INDEX "orders_customer_id_index" ON "orders" USING btree ("customer_id");--> statement-breakpoint
CREATE INDEX "orders_created_at_id_index" ON "orders" USING btree ("created_at","id");--> statement-breakpoint
CREATE UNIQUE INDEX "revisions_cast_id_number_index" ON "revisions" USING btree ("cast_id","number");--> statement-breakpoint
CREATE UNIQUE INDEX "revisions_cast_id_inputs_sha256_index" ON "revisions" USING btree ("cast_id","inputs_sha256");--> statement-breakpoint
CREATE INDEX "revisions_batch_id_index" ON "revisions" USING btree ("batch_id");--> statement-breakpoint
CREATE INDEX "revisions_state_index" ON "revisions" USING btree ("state");--> statement-breakpoint
CREATE UNIQUE INDEX "rule_sets_name_number_index" ON "rule_sets" USING btree ("name","number");--> statement-breakpoint
CREATE INDEX "scanner_checks_scanner_id_at_index" ON "scanner_checks" USING btree ("scanner_id","at");--> statement-breakpoint
CREATE INDEX "scans_cast_id_index" ON "scans" USING btree ("cast_id");--> statement-breakpoint
CREATE INDEX "scans_sha256_index" ON "scans" USING btree ("sha256");--> statement-breakpoint
CREATE INDEX "jobs_state_priority_not_before_index" ON "jobs" USING btree ("state","priority","not_before");--> statement-breakpoint
CREATE INDEX "jobs_lane_state_index" ON "jobs" USING btree ("lane","state");--> statement-breakpoint
CREATE UNIQUE INDEX "jobs_subject_id_index" ON "jobs" USING btree ("subject_id") WHERE "jobs"."state" in ('waiting', 'running');--> statement-breakpoint
CREATE INDEX "sessions_person_id_index" ON "sessions" USING btree ("person_id");--> statement-breakpoint
CREATE INDEX "sessions_expires_at_index" ON "sessions" USING btree ("expires_at");--> statement-breakpoint
CREATE INDEX "uploads_expires_at_index" ON "uploads" USING btree ("expires_at");