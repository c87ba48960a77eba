import type { Remarks } from '@/lib/core/areas/remarks.ts';

/** What a remark is about, in words. */
export const aboutWords: Record<Remarks['remarks'][number]['about'], string> = {
  '': 'the whole of it',
  song: 'the song',
  edit: 'the edit',
  dance: 'the dance',
  ending: 'the ending',
  handover: 'the hand-over',
};
