import { useRouter } from 'next/navigation';
import { useEffect } from 'react';
import { ZONE } from '@/lib/access/session.ts';
import type { BoardSummary } from '@/lib/protocol/api.ts';
import { dayIn } from '@/lib/zone/dayIn.ts';
import { whenDayTurns } from '../_client/dayTurns.ts';

/**
 * Lets the server know in which zone the list is read, and asks it again when the day turns for one of the couples.
 * @param told the zone that the server went by; null for its own
 */
export function useReadersDay(boards: readonly BoardSummary[], told: string | null): void {
  const router = useRouter();
  useEffect(() => {
    const zone = Intl.DateTimeFormat().resolvedOptions().timeZone;
    if (zone === told) return;
    // biome-ignore lint/suspicious/noDocumentCookie: the cookie store is not in every browser yet
    document.cookie = `${ZONE}=${zone}; Path=/; Max-Age=34560000; SameSite=Lax`;
    router.refresh();
  }, [told, router]);
  useEffect(
    () =>
      whenDayTurns(
        () => boards.map((board) => dayIn(board.zone)).join(),
        () => router.refresh(),
      ),
    [boards, router],
  );
}
