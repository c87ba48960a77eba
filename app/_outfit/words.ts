/** Words of what is worn at the dance, and of who stands by at lifts. */

export const title = 'Worn at the dance';
export const why = 'What has not been danced in yet is said on the sheet in time.';
export const worn = {
  train: 'A train or a long hem',
  veil: 'A veil or long sleeves',
  shoes: 'Other shoes than in lessons',
} as const;
export const states = { none: 'none', 'to try': 'yes, not danced in yet', tried: 'yes, danced in' } as const;
export const notSet = 'not set yet';
export const spotter = 'Who stands by while lifts are practised';
export const spotterHint =
  'Only where there is a lift: with a qualified instructor, and somebody who catches.';
