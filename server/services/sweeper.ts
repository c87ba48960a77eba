import type { Store } from '../../lib/store/store.ts';
import type { Log } from '../log.ts';

const DAY_MS = 86_400_000;
/** So long a browser is still told that its link has ended or was taken back, and not only that it has none. */
const LINK_DAYS = 90;
/** So long a browser that was signed in is known by it and need not wait when others guess. */
const SESSION_DAYS = 90;
/** How often it is looked whether a day has gone. */
const LOOK_MS = 10 * 60_000;

/** Once at the start and then daily, what nobody can use any more is removed. */
export class Sweeper {
  private sweptAt: number | null = null;
  private readonly timer: NodeJS.Timeout;

  constructor(
    private readonly store: Pick<Store, 'sweep'>,
    private readonly sweepFiles: () => Promise<void>,
    private readonly log: Log,
    private readonly clock: () => Date,
  ) {
    this.timer = setInterval(() => void this.look(), LOOK_MS).unref();
  }

  /** Sweeps when a day has gone since the last time. What fails is logged, and tried again at the next look. */
  async look(): Promise<void> {
    const now = this.clock().getTime();
    if (this.sweptAt !== null && now - this.sweptAt < DAY_MS) return;
    const before = this.sweptAt;
    this.sweptAt = now;
    const daysAgo = (days: number) => new Date(now - days * DAY_MS).toISOString();
    try {
      const swept = await this.store.sweep({
        now: daysAgo(0),
        linksBefore: daysAgo(LINK_DAYS),
        sessionsBefore: daysAgo(SESSION_DAYS),
      });
      await this.sweepFiles();
      if (swept.calendars + swept.links + swept.sessions > 0) this.log.info('swept', { ...swept });
    } catch (error) {
      this.sweptAt = before;
      this.log.error('sweeping failed', { reason: String(error) });
    }
  }

  stop(): void {
    clearInterval(this.timer);
  }
}
