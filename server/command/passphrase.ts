import { ask } from './store.ts';
import type { Verb } from './verb.ts';
import { Wrong } from './wrong.ts';

export const passphraseVerb: Verb = {
  use: '',
  does: 'a new passphrase for the instructor, when the old one is lost; ends all sessions',
  words: 0,
  options: { name: { value: 'Rosa', does: 'the instructor’s name', usual: 'the one that is kept' } },
  example: 'passphrase',
  async run(_words, given) {
    const name = given.name === undefined ? null : String(given.name).trim();
    if (name !== null && (name === '' || name.length > 80))
      throw new Wrong('--name: write a name of 80 letters at most.');
    const passphrase = await ask({ verb: 'passphrase', name });
    return {
      json: { passphrase },
      text: passphrase,
      line: 'passphrase: it is shown this once, and everybody is signed out. Sign in with it, then choose your own.',
    };
  },
};
