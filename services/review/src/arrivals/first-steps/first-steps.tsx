export function FirstSteps() {
  return null;
}
