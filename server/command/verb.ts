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

export interface Option {
  /** How its value is written: `3:05`. A switch has none. */
  value?: string;
  does: string;
  /** What holds where it is not given. */
  usual?: string;
  /** The verb does nothing without it. */
  needed?: true;
}
/** By name, without the dashes. */
export type Options = Readonly<Record<string, Option>>;
/** What every verb has besides its own. */
export const common: Options = {
  json: { does: 'the answer for programs' },
  help: { does: 'this help, and nothing else' },
};
export type Given = Record<string, string | boolean | undefined>;

export interface Verb {
  /** The words after it, as the usage prints them: `RECORDING COPY`. */
  use: string;
  does: string;
  /** How many words stand after the verb. */
  words: number;
  /** Further words may follow. */
  more?: boolean;
  options?: Options;
  /** A call as a person would write it, without `larkstep`. */
  example: string;
  /** @param report told in a few words what is being done, where that takes long */
  run(words: string[], given: Given, report: (words: string) => void): Promise<Said>;
}
