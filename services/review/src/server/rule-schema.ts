/** A JSON Schema of the rules, as far as the screens walk it. */
export interface RuleSchema {
  readonly type?: string;
  readonly title?: string;
  readonly description?: string;
  readonly unit?: string;
  readonly choices?: Readonly<Record<string, string>>;
  readonly enum?: readonly string[];
  readonly default?: unknown;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly maxItems?: number;
  readonly maxLength?: number;
  readonly properties?: Readonly<Record<string, RuleSchema>>;
  readonly additionalProperties?: RuleSchema | boolean;
  readonly items?: RuleSchema;
  readonly prefixItems?: readonly RuleSchema[];
  readonly anyOf?: readonly RuleSchema[];
}
