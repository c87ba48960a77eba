/** What a bench may be told: sizes, each with a default of its own. */
export type Words = Partial<
  Record<
    | 'boards'
    | 'people'
    | 'nodes'
    | 'kills'
    | 'count'
    | 'edits'
    | 'editing'
    | 'rounds'
    | 'seconds'
    | 'steps'
    | 'seed',
    number
  >
>;
