import { effect, signal } from '@preact/signals';

export type Look = 'light' | 'dark' | 'system';

const KEPT = 'look';
const kept = localStorage.getItem(KEPT);

/** Light, dark, or as the device has it; kept on this device. */
export const look = signal<Look>(kept === 'light' || kept === 'dark' ? kept : 'system');

effect(() => {
  if (look.value === 'system') {
    delete document.documentElement.dataset.look;
    localStorage.removeItem(KEPT);
  } else {
    document.documentElement.dataset.look = look.value;
    localStorage.setItem(KEPT, look.value);
  }
});
