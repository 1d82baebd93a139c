/** What a person reads of one key of the rules. */
export interface RuleWords {
  readonly title: string;
  /** One or two sentences: what it does, and which way it goes. */
  readonly description: string;
  /** Of numbers: what they count in. `share` is a share of something from 0 to 1, `pieces` a count. */
  readonly unit?: RuleUnit;
  /** Of a choice: what each value means. */
  readonly choices?: Readonly<Record<string, string>>;
}

export type RuleUnit = 'mm' | '°' | '%' | 'days' | 'share' | 'pieces';

/** By path: keys joined by dots, `[]` for the items of a list, `*` for names that a workshop chooses. */
export type RuleWordsTable = Readonly<Record<string, RuleWords>>;
