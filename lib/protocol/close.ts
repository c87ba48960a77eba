/**
 * Why the server closes a connection for sync. A stock client stops for good on 4400-4499 and tries again on any other
 * code, so a lasting reason has a 44xx and a passing one a 45xx. Each sentence is what the screens say; `page` is what our page does:
 * - opens anew: what was written here is refused while reading goes on. The words are kept for the person first, then the copy on
 *   this device is dropped, which would be refused again, and the area opened anew.
 * - stops: nothing helps but a new link or page. The copy on this device stays, with all that was not sent.
 * - forgets: the words are kept for the person first, then everything of the board on this device is dropped.
 * - tries again: the provider does, later and later; nothing is lost meanwhile.
 */
export const closings = {
  malformed: {
    code: 4400,
    page: 'opens anew',
    sentence: 'This page sent something that cannot be read. Your words are kept for you to copy.',
  },
  unknown: {
    code: 4401,
    page: 'stops',
    sentence: 'This browser has no link to this board. Please open your link again.',
  },
  noRight: {
    code: 4403,
    page: 'opens anew',
    sentence: 'Your link may not change this. Your words are kept for you to copy.',
  },
  gone: { code: 4404, page: 'forgets', sentence: 'This board is no longer there.' },
  ended: {
    code: 4410,
    page: 'stops',
    sentence: 'Your link has ended. Please ask for a new one; your words are kept here.',
  },
  revoked: {
    code: 4411,
    page: 'forgets',
    sentence: 'Your link was taken back. This browser keeps nothing of the board from now on.',
  },
  outdated: {
    code: 4409,
    page: 'opens anew',
    sentence: 'This was said of what has changed meanwhile. Your words are kept for you to copy.',
  },
  tooLarge: {
    code: 4413,
    page: 'opens anew',
    sentence: 'This is more than a board can hold. Please shorten it.',
  },
  invalid: {
    code: 4422,
    page: 'opens anew',
    sentence: 'This change does not fit the board. Your words are kept for you to copy.',
  },
  apart: {
    code: 4423,
    page: 'stops',
    sentence:
      'This part of the board is damaged and was set apart. Your instructor can open it as of an earlier hour.',
  },
  reload: { code: 4426, page: 'stops', sentence: 'There is a newer version of this page. Please reload it.' },
  stopping: {
    code: 4503,
    page: 'tries again',
    sentence: 'The server is restarting. Your changes are kept and sent in a moment.',
  },
  failed: {
    code: 4507,
    page: 'tries again',
    sentence: 'Storing did not work just now. Your changes are kept and sent again.',
  },
  crowded: {
    code: 4529,
    page: 'tries again',
    sentence: 'This link is open in too many places at once: please close some of its pages. Trying again.',
  },
  changed: {
    code: 4509,
    page: 'tries again',
    sentence: 'What your link may do has changed. The board is opened again in a moment.',
  },
  slow: { code: 4508, page: 'tries again', sentence: 'The connection is too slow to follow. Trying again.' },
} as const;
export type Closing = keyof typeof closings;

/** Said in place of `noRight` where the role may write, and this link may not any more. */
export const FROZEN = 'The instructor has stopped this link from writing.';

/** The closing that a code means; null for the codes of the WebSocket standard itself. */
export function closingOf(code: number): Closing | null {
  const found = Object.entries(closings).find(([, closing]) => closing.code === code);
  return found ? (found[0] as Closing) : null;
}
