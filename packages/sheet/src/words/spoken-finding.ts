/** A finding of the cast check as a catalogue of words turns it into a sentence. */
export interface SpokenFinding {
  readonly code: string;
  /** With its unit and uncertainty; '' where there is none. */
  readonly value: string;
  readonly limit: string;
  /** The sentence that the check made, in English. */
  readonly text: string;
}
