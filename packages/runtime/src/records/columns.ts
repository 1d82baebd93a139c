import { customType, integer, text } from 'drizzle-orm/pg-core';

/** An instant: timestamptz in the database, an ISO string in UTC with milliseconds in the program. */
export const instant = customType<{ data: string; driverData: string | Date }>({
  dataType: () => 'timestamp (3) with time zone',
  fromDriver: (value) => new Date(value).toISOString(),
  toDriver: (value) => value,
});

/** What every row has that changes put: the id, a version that rises by one with each put, and two instants. */
export const putColumns = {
  id: text().primaryKey(),
  version: integer().notNull(),
  createdAt: instant().notNull(),
  changedAt: instant().notNull(),
};
