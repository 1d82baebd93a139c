import type { Side } from '@cast-to-last/foot/side';

/** The sample order that leads through the first steps. */
export interface FirstStepsOrder {
  readonly orderId: string;
  readonly orderNumber: string;
  readonly casts: readonly { readonly id: string; readonly side: Side; readonly state: string; readonly currentRevisionId: string | null }[];
  readonly scans: readonly { readonly fileName: string; readonly side: Side }[];
}
