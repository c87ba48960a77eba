import type { Metadata } from 'next';
import { cookies } from 'next/headers';
import { redirect } from 'next/navigation';
import { services } from '@/lib/access/services.ts';
import { tokenAmong } from '@/lib/access/session.ts';
import { PassphraseScreen } from '../../_studio/passphraseScreen.tsx';

export const metadata: Metadata = { title: 'Passphrase' };

/** How the studio is locked: for whoever is signed in. */
export default async function PassphrasePage() {
  const kept = await cookies();
  const name = await services().instructor.of(tokenAmong((cookie) => kept.get(cookie)?.value));
  if (!name.ok) redirect('/');
  return <PassphraseScreen name={name.value} />;
}
