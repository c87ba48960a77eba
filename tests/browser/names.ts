/** A couple, their evening and their song, all invented, as somebody might write them. */
export interface Written {
  one: string;
  other: string;
  venue: string;
  song: string;
  cue: string;
  move: string;
}

/** As long as each field takes it. The first has no place to break a line, the others have many. */
export const longest: Written = {
  one: `Brunnlindenhagenwaldstetten-${'Ackerwiesental'.repeat(4)}`.slice(0, 80),
  other: 'Maria Immaculata Philippa Josephina Theodora von und zu Unterlindenhofen-Brackwede'.slice(0, 80),
  venue:
    'The Great Assembly Room of the Former Corn Exchange and Agricultural Hall, Upper Floor, Entrance by the Courtyard'.slice(
      0,
      120,
    ),
  song: 'A Waltz With a Title So Long That Nobody Ever Calls It by Its Full Name, in the Version With Twelve Strings and a Horn'.slice(
    0,
    120,
  ),
  cue: 'and then she says, as if it were nothing, that the river will be there tomorrow'.slice(0, 80),
  move: 'Turn under the arm, twice, with the hesitation that we practised in the third lesson'.slice(0, 80),
};

/** Letters as wide as ours get, without a place to break a line. */
export const widest: Written = {
  ...longest,
  cue: 'W'.repeat(60),
  move: 'M'.repeat(60),
};

/** Common given names of each language; from memory, the rest invented. */
export const scripts: Record<string, Written> = {
  greek: {
    one: 'Ελευθερία',
    other: 'Αλέξανδρος',
    venue: 'Αίθουσα του Λιμανιού',
    song: 'Το βαλς της αυλής',
    cue: 'η καμπάνα',
    move: 'Στροφή κάτω από το χέρι',
  },
  cyrillic: {
    one: 'Людмила',
    other: 'Святослав',
    venue: 'Дом у пристани',
    song: 'Вальс во дворе',
    cue: 'колокол',
    move: 'Поворот под рукой',
  },
  arabic: {
    one: 'ليلى',
    other: 'عبد الرحمن',
    venue: 'قاعة الميناء القديم',
    song: 'فالس الفناء',
    cue: 'الجرس',
    move: 'دوران تحت الذراع',
  },
  hebrew: {
    one: 'שירה',
    other: 'אברהם',
    venue: 'אולם הנמל',
    song: 'ואלס בחצר',
    cue: 'הפעמון',
    move: 'סיבוב מתחת לזרוע',
  },
  chinese: {
    one: '欧阳静',
    other: '李明哲',
    venue: '旧码头大厅',
    song: '庭院里的圆舞曲',
    cue: '钟声',
    move: '臂下转',
  },
  thai: {
    one: 'กัญญารัตน์',
    other: 'ธนพัฒน์',
    venue: 'ห้องโถงริมท่าเรือเก่า',
    song: 'เพลงวอลตซ์ในลานบ้าน',
    cue: 'เสียงระฆัง',
    move: 'หมุนใต้แขน',
  },
};
