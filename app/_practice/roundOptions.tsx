'use client';

import type { FloorScore } from '@/lib/core/edit/score.ts';
import { setRounds, setRunUp } from './goRound.ts';
import { useMirrored } from './mirrored.ts';
import { usePlayer } from './player.ts';
import { Tick } from './tick.tsx';
import { rounds as words } from './words.ts';

/** How each round of what is danced again and again begins, and what the next one is. */
export function RoundOptions({ score }: { score: FloorScore }) {
  const { runUp, rounds } = usePlayer();
  const [mirrored, setMirrored] = useMirrored();
  return (
    <section aria-labelledby="rounds">
      <h2 id="rounds" className="text-2xl">
        {words.title}
      </h2>
      <Tick label={words.runUp} on={runUp} onChange={(on) => setRunUp(score, on)} />
      <Tick
        label={words.buildsUp}
        on={rounds.buildsUp}
        onChange={(buildsUp) => setRounds({ ...rounds, buildsUp })}
      />
      <Tick label={words.grows} on={rounds.grows} onChange={(grows) => setRounds({ ...rounds, grows })} />
      <Tick label={words.mirrored} on={mirrored} onChange={setMirrored} />
    </section>
  );
}
