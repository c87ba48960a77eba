/** What a verb has to say. */
export interface Said {
  /** For programs, with `--json`. */
  json: unknown;
  /** For people. */
  text: string;
  /** The one line on standard error. */
  line: string;
  /** True when there are findings that block: exit 1. */
  blocked?: boolean;
}

/** Options that take a value are `string`, switches `boolean`. */
export type Options = Record<string, { type: 'string' | 'boolean' }>;
export type Given = Record<string, string | boolean | undefined>;

export interface Verb {
  /** As the usage prints it: `AUDIO [--target 3:05]`. */
  use: string;
  does: string;
  /** How many words stand after the verb. */
  words: number;
  /** Further words may follow. */
  more?: boolean;
  options?: Options;
  /** @param report told in a few words what is being done, where that takes long */
  run(words: string[], given: Given, report: (words: string) => void): Promise<Said>;
}
