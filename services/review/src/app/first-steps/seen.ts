import { signal } from '@preact/signals';

const KEPT = 'first-steps';

/** Whether the first steps were gone through or put away on this device. */
export const firstStepsSeen = signal(localStorage.getItem(KEPT) !== null);

export function endFirstSteps(): void {
  firstStepsSeen.value = true;
  localStorage.setItem(KEPT, 'seen');
}
