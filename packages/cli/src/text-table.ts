/** Rows of text under a head, each column as wide as its widest cell, two spaces before and between. */
export function textTable(head: readonly string[], rows: readonly (readonly string[])[], aligned: readonly ('left' | 'right')[]): string[] {
  const widths = head.map((_, i) => Math.max(...[head, ...rows].map((cells) => cells[i].length)));
  return [head, ...rows].map((cells) => `  ${cells.map((cell, i) => (aligned[i] === 'left' ? cell.padEnd(widths[i]) : cell.padStart(widths[i]))).join('  ')}`.trimEnd());
}
