import { useState } from 'react';
import { type FootPlace, footDiagram, mirroredFeet } from '@/lib/core/dance/footDiagram.ts';
import type { Move } from '@/lib/core/dance/move.ts';
import { type Drawn, drawnFeet, FOOT } from './footDrawing.ts';
import { footSentence, footWords, stepWords, turnWords } from './footWords.ts';

const TOGGLE =
  'min-h-11 rounded-full border border-edge px-3 hover:border-ink aria-pressed:border-ink aria-pressed:bg-ink aria-pressed:text-paper';

/** Where the feet of one of the two go in a figure, and how far it turns them. */
export function FootDiagram({ move }: { move: Move }) {
  const [who, setWho] = useState<'lead' | 'follow'>('lead');
  const [isMirrored, mirror] = useState(false);
  const told = footDiagram(move, who);
  if (!told) return <p className="text-soft">{footWords.untold}</p>;
  const diagram = isMirrored ? mirroredFeet(told) : told;
  const { width, height, scale, start, feet, labels } = drawnFeet(diagram);
  return (
    <figure className="mt-2 space-y-2">
      <div className="flex flex-wrap gap-2">
        <fieldset className="flex gap-2">
          <legend className="sr-only">{footWords.who}</legend>
          {(['lead', 'follow'] as const).map((one) => (
            <button
              key={one}
              type="button"
              aria-pressed={who === one}
              className={TOGGLE}
              onClick={() => setWho(one)}
            >
              {footWords[one]}
            </button>
          ))}
        </fieldset>
        <button
          type="button"
          aria-pressed={isMirrored}
          className={TOGGLE}
          onClick={() => mirror(!isMirrored)}
        >
          {footWords.mirror}
        </button>
      </div>
      <svg
        role="img"
        aria-label={footSentence(move.name, diagram, isMirrored)}
        viewBox={`0 0 ${width} ${height}`}
        width={width}
        height={height}
        className="h-auto max-w-full"
      >
        {start.map((foot) => (
          <Foot key={foot.key} foot={foot} scale={scale} className="fill-transparent stroke-edge" />
        ))}
        {feet.map((foot) => (
          <Foot
            key={foot.key}
            foot={foot}
            scale={scale}
            hasWeight={foot.hasWeight}
            className={`stroke-ink ${foot.foot === 'left' ? 'fill-paper' : foot.hasWeight ? 'fill-ink' : 'fill-rule'}`}
          />
        ))}
        {labels.map(({ key, x, y, words }) => (
          <text
            key={key}
            x={x}
            y={y}
            textAnchor="middle"
            dominantBaseline="central"
            className="fill-ink stroke-paper text-[13px] font-semibold"
            strokeWidth={3}
            paintOrder="stroke"
          >
            {words}
          </text>
        ))}
      </svg>
      <p className="flex items-center gap-2">
        <TurnSign degrees={diagram.turn} />
        {turnWords(diagram)}
      </p>
      {/* What turns on the spot lies on itself in the drawing: its words tell it apart. */}
      {diagram.marks.length === 0 ? null : (
        <details>
          <summary className="min-h-11 content-center text-soft">{footWords.inWords}</summary>
          <ol>
            {diagram.marks.map((mark) => (
              <li key={mark.count}>{stepWords(mark)}</li>
            ))}
          </ol>
        </details>
      )}
      <figcaption className="text-sm text-soft">
        {footWords.legend} {move.startsOn > 1 ? footWords.begins(move.startsOn) : ''} {footWords.drawn}{' '}
        {move.eitherFoot ? footWords.other : ''}
      </figcaption>
    </figure>
  );
}

/** A sole and a heel, toes ahead. */
function Foot({
  foot: { foot, x, y, facing },
  scale,
  hasWeight = true,
  className,
}: {
  foot: Drawn<FootPlace>;
  scale: number;
  hasWeight?: boolean;
  className: string;
}) {
  const side = foot === 'left' ? -scale : scale;
  return (
    <g
      transform={`translate(${x} ${y}) rotate(${facing}) scale(${side} ${scale})`}
      className={className}
      strokeWidth={1.25}
      strokeDasharray={hasWeight ? undefined : '3 2'}
    >
      <path d={FOOT.sole} vectorEffect="non-scaling-stroke" />
      <path d={FOOT.heel} vectorEffect="non-scaling-stroke" />
    </g>
  );
}

const SIGN = { size: 40, radius: 14 };

/** The way round from straight ahead to where it ends; a whole ring from once round on. */
function TurnSign({ degrees }: { degrees: number }) {
  const { size, radius } = SIGN;
  const round = Math.min(Math.abs(degrees), 330);
  const angle = (Math.sign(degrees) * round * Math.PI) / 180;
  const [x, y] = [radius * Math.sin(angle), -radius * Math.cos(angle)];
  const sweep = degrees > 0 ? 1 : 0;
  return (
    <svg
      width={size}
      height={size}
      viewBox={`${-size / 2} ${-size / 2} ${size} ${size}`}
      aria-hidden="true"
      className="shrink-0 fill-none stroke-ink"
      strokeWidth={2}
    >
      <circle r={radius} className="stroke-rule" />
      <path d={`M0 ${-radius + 5}V${-radius - 4}`} className="stroke-soft" />
      {degrees === 0 ? null : (
        <>
          <path d={`M0 ${-radius}A${radius} ${radius} 0 ${round > 180 ? 1 : 0} ${sweep} ${x} ${y}`} />
          <path
            d="M-4-5 4 0-4 5Z"
            transform={`translate(${x} ${y}) rotate(${Math.sign(degrees) * round + (degrees > 0 ? 0 : 180)})`}
            className="fill-ink stroke-none"
          />
        </>
      )}
    </svg>
  );
}
