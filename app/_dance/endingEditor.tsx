import type { PlanChange } from '@/lib/core/areas/change.ts';
import { solveEnding, usualEnding } from '@/lib/core/dance/ending.ts';
import type { Ending, Move } from '@/lib/core/dance/move.ts';
import { clock } from '@/lib/core/units.ts';
import { useBoard } from '../_client/room.tsx';
import { Button } from '../_ui/button.tsx';
import { DraftField } from '../_ui/draftField.tsx';
import { Choice } from '../_ui/field.tsx';
import { Notice } from '../_ui/notice.tsx';
import { Sentence } from '../_ui/sentence.tsx';
import { deskPlace } from '../_ui/stageWays.ts';
import { CautionNote } from './cautionNote.tsx';
import { useDesk } from './desk.tsx';
import { EndingMoves } from './endingMoves.tsx';
import { lastStrongTarget, timeTarget, wordsForLanding } from './endingTargets.ts';
import { parseClock } from './entering.ts';
import { NumberField } from './numberField.tsx';
import { Tick } from './ownMoveForm.tsx';

/** How the dance ends: on what the closing pose lands, what leads there, and how long it is kept. */
export function EndingEditor() {
  const { plan, score, change, take } = useDesk();
  const { board, today } = useBoard('board', 'today');
  const strong = lastStrongTarget(board, score, today);
  const { ending } = plan;
  if (!ending) {
    return (
      <div className="space-y-3 pb-2">
        <p className="sung text-xl">No ending yet. On what shall the closing pose land?</p>
        <div className="flex flex-wrap gap-2">
          {strong ? (
            <Button
              look="main"
              data-does={deskPlace('ending')}
              onClick={() => change([{ register: 'ending', value: { ...usualEnding, target: strong } }])}
            >
              On the last strong count
            </Button>
          ) : null}
          <Button
            onClick={() => {
              take({ kind: 'landing' });
            }}
          >
            Choose the count on the sheet
          </Button>
        </div>
      </div>
    );
  }
  const put = (value: Ending, more: PlanChange[] = []) => change([...more, { register: 'ending', value }]);
  const set = (part: Partial<Ending>) => put({ ...ending, ...part });
  const pose = plan.moves.find(({ id }) => id === ending.moves.at(-1));
  return (
    <div className="space-y-4 pb-2">
      <Target ending={ending} strong={strong} onSet={(target) => set({ target })} />
      <EndingMoves ending={ending} onPut={put} />
      <div className="grid items-baseline gap-3 @md:grid-cols-2 @4xl:grid-cols-4">
        <NumberField
          label="Closing pose kept, seconds"
          hint="3 to 5 s, so that everybody gets their picture"
          value={ending.hold}
          least={0}
          most={30}
          onKeep={(hold) => set({ hold })}
        />
        <SignalChoice signal={ending.signal} onSet={(signal) => set({ signal })} />
        <DraftField
          label="Facing"
          hint="A landmark, such as the windows"
          value={ending.facing}
          maxLength={120}
          onKeep={(facing) => set({ facing: facing.trim() })}
        />
      </div>
      {pose ? <Safer pose={pose} safer={ending.safer} onSet={(safer) => set({ safer })} /> : null}
      <Explained />
      <Button look="quiet" onClick={() => change([{ register: 'ending', value: null }])}>
        Take the ending away
      </Button>
    </div>
  );
}

function Target({
  ending,
  strong,
  onSet,
}: {
  ending: Ending;
  strong: Ending['target'] | null;
  onSet(target: Ending['target']): void;
}) {
  const { take, plan, score } = useDesk();
  const { board } = useBoard('board');
  const words = wordsForLanding(board);
  const solved = solveEnding(plan, score);
  const at = solved.ok ? clock(solved.value.landing.target, 1) : '';
  return (
    <div className="grid items-baseline gap-3 @md:grid-cols-2 @4xl:grid-cols-4">
      <Choice
        label="The closing pose lands on"
        value={ending.target.kind === 'cue word' ? (ending.target.cue ?? '') : ending.target.kind}
        onChange={(event) => {
          const wanted = event.target.value;
          const cue = plan.cues.find(({ id }) => id === wanted);
          if (cue) onSet({ kind: 'cue word', at: cue.at, cue: cue.id });
          else if (wanted === 'last strong count' && strong) onSet(strong);
          else if (wanted === 'time') onSet({ ...ending.target, kind: 'time', cue: null });
        }}
      >
        {strong ? <option value="last strong count">the last strong count</option> : null}
        <option value="time">a time of the music</option>
        {words.map(({ id, word, floor }) => (
          <option key={id} value={id}>
            “{word}” at {clock(floor)}
          </option>
        ))}
      </Choice>
      {ending.target.kind === 'time' ? (
        <DraftField
          label="Time of the music"
          value={at}
          onKeep={(text) => {
            const seconds = parseClock(text);
            const target = seconds === null ? null : timeTarget(board, seconds);
            if (target) onSet(target);
          }}
        />
      ) : null}
      <div>
        <Button
          onClick={() => {
            take({ kind: 'landing' });
          }}
        >
          Choose the count on the sheet
        </Button>
      </div>
    </div>
  );
}

function SignalChoice({ signal, onSet }: { signal: string | null; onSet(signal: string | null): void }) {
  const { board } = useBoard('board');
  return (
    <Choice
      label="Ending signal: the word that tells them"
      value={signal ?? ''}
      onChange={(event) => onSet(event.target.value || null)}
    >
      <option value="">the last one in time</option>
      {wordsForLanding(board).map(({ id, word, floor }) => (
        <option key={id} value={id}>
          “{word}” at {clock(floor)}
        </option>
      ))}
    </Choice>
  );
}

function Safer({ pose, safer, onSet }: { pose: Move; safer: boolean; onSet(safer: boolean): void }) {
  if (!pose.saferForm && pose.cautions.length === 0) return null;
  return (
    <div className="space-y-1">
      {safer ? <p>{pose.saferForm}</p> : <CautionNote move={pose} />}
      {pose.saferForm ? <Tick label="Dance the safer form" checked={safer} onChange={onSet} /> : null}
    </div>
  );
}

/** What the ending comes to, or what it still needs. */
function Explained() {
  const { plan, score } = useDesk();
  const solved = solveEnding(plan, score);
  if (!solved.ok) return <Notice kind="wrong">{solved.problem.sentence}</Notice>;
  const { words, landing, led, signal, kept, audibleDb } = solved.value;
  const off = Math.abs(landing.secondsOff);
  return (
    <div className="max-w-3xl">
      <p className="sung text-xl leading-snug">
        <Sentence>{words}</Sentence>
      </p>
      <p className="text-soft">
        Led from {clock(led.floor, 1)}
        {signal ? `, ${signal.before.toFixed(1)} s after the word` : ', no word in reach tells them'}; lands
        at {clock(landing.floor, 1)}
        {off < 0.06
          ? ''
          : `, ${off.toFixed(1)} s ${landing.secondsOff < 0 ? 'before' : 'after'} what was asked`}
        ; kept until {clock(kept.until, 1)}
        {kept.afterSound > 0.05 ? `, ${kept.afterSound.toFixed(1)} s of that after the last sound` : ''}
        {audibleDb !== null && audibleDb < 0
          ? `; the music is down by ${Math.abs(audibleDb).toFixed(0)} dB then`
          : ''}
        .
      </p>
    </div>
  );
}
