/** On the canvas, CSS pixels. */
export interface WordBox {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Between two words, pixels, and what counts as nothing. */
const GAP = 2;
const NOTHING = 0.01;

/** Finds each word over the scene a place of its own, as near to the one it asks for as the words before it leave free. */
export class WordPlaces {
  private readonly taken: WordBox[] = [];
  private width = 0;

  /** Before each frame. */
  clear(width: number): void {
    this.taken.length = 0;
    this.width = width;
  }

  /** By how much a word must be moved: sideways to stay on the canvas, up or down to lie on no other. */
  place(asked: WordBox): readonly [number, number] {
    const dx = asked.left < 0 ? -asked.left : Math.min(0, Math.max(-asked.left, this.width - asked.right));
    const box = { ...asked, left: asked.left + dx, right: asked.right + dx };
    const beside = this.taken.filter(({ left, right }) => left < box.right && right > box.left);
    const [down, up] = [this.free(box, beside, 1), this.free(box, beside, -1)];
    const dy = down <= -up ? down : up;
    this.taken.push({ ...box, top: box.top + dy, bottom: box.bottom + dy });
    return [dx, dy];
  }

  private free({ top, bottom }: WordBox, beside: readonly WordBox[], way: 1 | -1): number {
    let dy = 0;
    for (;;) {
      const met = beside.find((other) => other.top < bottom + dy + GAP - NOTHING && other.bottom > top + dy - GAP + NOTHING);
      if (met === undefined) return dy;
      dy = way > 0 ? met.bottom + GAP - top : met.top - GAP - bottom;
    }
  }
}
