import { ask } from '../_ui/api.ts';

/** Posts a form; null when it was taken, else the sentence that says why not. */
export async function sendForm(address: string, words: unknown): Promise<string | null> {
  const sent = await ask(address, { method: 'POST', json: words });
  return sent.ok ? null : sent.sentence;
}
