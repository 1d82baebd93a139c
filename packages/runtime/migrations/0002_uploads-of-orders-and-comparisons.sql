CREATE TABLE "comparisons" (
	"id" text PRIMARY KEY NOT NULL,
	"first_revision_id" text NOT NULL,
	"second_revision_id" text NOT NULL,
	"of" text NOT NULL,
	"report" jsonb NOT NULL,
	"files" jsonb NOT NULL,
	"created_at" timestamp (3) with time zone NOT NULL
);
--> statement-breakpoint
ALTER TABLE "uploads" ALTER COLUMN "cast_id" DROP NOT NULL;--> statement-breakpoint
ALTER TABLE "uploads" ADD COLUMN "order_id" text;--> statement-breakpoint
ALTER TABLE "uploads" ADD COLUMN "sha256" text;--> statement-breakpoint
CREATE INDEX "comparisons_first_revision_id_index" ON "comparisons" USING btree ("first_revision_id");--> statement-breakpoint
CREATE INDEX "comparisons_second_revision_id_index" ON "comparisons" USING btree ("second_revision_id");