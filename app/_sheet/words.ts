/** What the sheet says where it stands empty, and on the lines of its own. */
export const sheet = {
  title: 'The phrase sheet',
  basicUntil: (until: string): string => `only the basic, until ${until}`,
  empty: {
    title: 'Drop the song here',
    lead: 'Its phrases become the rows of this sheet: the word to listen for, the counts, and your moves on them.',
    nothingYet: 'There is no song on this board yet. The couple and their instructor choose it.',
    noBeats: 'No beats are known in this song yet. Listen to it on the song page, or tap along there.',
    toSong: 'Go to the song',
    noSections:
      'The counts are known, the sections are not: say on the song page where verse and chorus begin, and each phrase becomes a row.',
    markSections: 'Mark the sections',
    ghost: [
      ['intro', ''],
      ['verse', 'a word'],
      ['', 'another'],
      ['chorus', 'the big word'],
      ['', ''],
      ['bridge', 'a bell'],
      ['chorus', 'the last word'],
    ] as [string, string][],
    ghostMove: 'a move where the music changes',
  },
} as const;
