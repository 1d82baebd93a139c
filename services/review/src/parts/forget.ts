const forgetting = new Set<() => void>();

/** What must not stay on this device once someone signs out. */
export function forgetAtSignOut(forget: () => void): void {
  forgetting.add(forget);
}

export function forgetAll(): void {
  for (const forget of forgetting) forget();
}
