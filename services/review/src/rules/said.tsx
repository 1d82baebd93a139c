import type { Said } from './words/sentence.js';

/** A sentence of a rule, its numbers standing out. */
export function Sentence({ said }: { readonly said: Said }) {
  return <>{said.map(({ text, strong }, i) => (strong ? <strong key={i}>{text}</strong> : text))}</>;
}

/** All sentences of one rule. */
export function Sentences({ said }: { readonly said: readonly Said[] }) {
  return <>{said.map((sentence, i) => <p key={i}><Sentence said={sentence} /></p>)}</>;
}
