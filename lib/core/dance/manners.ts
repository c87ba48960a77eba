/** Three ways of choosing, so that a couple have three dances to choose from. */
export const manners = ['remembered', 'varied', 'easy'] as const;
export type Manner = (typeof manners)[number];

/** What makes a dance good: common practice, no source. */
export interface Points {
  /** A move where a section begins, or a later phrase of one. */
  marked: number;
  phraseMarked: number;
  /** The same change has the move that it had before, or another; half of it for a later phrase. */
  sameAgain: number;
  anotherMove: number;
  sameTwiceRunning: number;
  /** One of the couple's moves that is danced at all. */
  wanted: number;
  /** The showpiece on the strongest chorus. */
  showpiece: number;
  /** A change of hold during the basic; a link; what cannot be danced at all, where a person placed it so. */
  holdChange: number;
  link: number;
  broken: number;
  /** A count that no whole basic fills; eight bars of nothing but basic after the first eight. */
  leftOver: number;
  plain: number;
  eachDifficulty: number;
  notYetAlone: number;
}

const remembered: Points = {
  marked: 10,
  phraseMarked: 2,
  sameAgain: 6,
  anotherMove: -6,
  sameTwiceRunning: -3,
  wanted: 8,
  showpiece: 8,
  holdChange: -2,
  link: -2,
  broken: -40,
  leftOver: -1,
  plain: -2,
  eachDifficulty: -1,
  notYetAlone: -2,
};

export const pointsOf: Record<Manner, Points> = {
  remembered,
  varied: { ...remembered, phraseMarked: 6, sameAgain: 1, anotherMove: -1, sameTwiceRunning: -8, wanted: 14 },
  easy: {
    ...remembered,
    phraseMarked: -2,
    wanted: 1,
    showpiece: 2,
    holdChange: -6,
    link: -6,
    plain: 0,
    eachDifficulty: -5,
    notYetAlone: -6,
  },
};
