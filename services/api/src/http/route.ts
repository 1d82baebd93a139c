import type { Request, Response } from 'express';
import type { z } from 'zod';
import type { Actor } from '@cast-to-last/runtime/records/changes/entry';
import type { Who } from '../access/who.js';
import type { Service } from '../service.js';

/** A request that was let in and whose query and body were checked. */
export interface Call<Query = unknown, Body = unknown> {
  readonly service: Service;
  readonly who: Who;
  /** The one who asks, as the audit log names them. */
  readonly by: Actor;
  readonly params: Readonly<Record<string, string>>;
  readonly query: Query;
  readonly body: Body;
  readonly request: Request;
  readonly response: Response;
  /** The version that `If-Match` names. Throws Problem 428 where there is none. */
  ifMatch(): number;
}

/** Answered as JSON. `version` becomes the ETag; without a body the status is 204. */
export interface Answer {
  readonly status?: number;
  readonly body?: unknown;
  readonly version?: number;
  readonly headers?: Readonly<Record<string, string>>;
}

export type Method = 'get' | 'post' | 'patch' | 'put' | 'delete';

export interface RouteSpec<Query extends z.ZodType, Body extends z.ZodType> {
  readonly method: Method;
  /** Below /api/v1, as express writes it. */
  readonly path: string;
  /** One line for the description of the API. */
  readonly summary: string;
  readonly query?: Query;
  /** A body of JSON; 'bytes': the handler reads the request itself. */
  readonly body?: Body | 'bytes';
  /** Media type of what is answered, where it is not JSON. */
  readonly produces?: string;
  /** Statuses of success, for the description. */
  readonly status?: number;
  /** Needs If-Match. */
  readonly conditional?: true;
  /** Null where the handler answered by itself. */
  handle(call: Call<z.output<Query>, z.output<Body>>): Promise<Answer | null>;
}

export type Route = RouteSpec<z.ZodType, z.ZodType>;

/** Keeps the types of query and body inside the route. */
export const route = <Query extends z.ZodType = z.ZodType<Record<string, never>>, Body extends z.ZodType = z.ZodType<undefined>>(spec: RouteSpec<Query, Body>): Route =>
  spec as unknown as Route;
