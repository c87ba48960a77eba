import { type RefObject, useId } from 'react';
import { type Floor, outlineOf, type Thing, thingsOf } from '@/lib/core/dance/floor.ts';
import { thingWords } from '@/lib/core/dance/floorWords.ts';
import { HALF_COUPLE, sideOf } from '@/lib/core/dance/onFloor.ts';
import type { Spot } from '@/lib/core/dance/outline.ts';
import type { Place } from '@/lib/core/dance/path.ts';
import type { FloorPlan } from '@/lib/core/handover/floorPlan.ts';
import { bandOf, lineOf, marksOf, pointsOf, type Scale, tenth, touching } from './drawn.ts';
import { planSentence, words } from './words.ts';

interface Props {
  floor: Floor;
  scale: Scale;
  /** The dance on it; null while there is none. */
  plan: FloorPlan | null;
  /** Corners can be dragged. */
  handles: boolean;
  /** Takes pointers: what they mean is found by the drawing's `data-corner`, `data-side` and `data-thing`. */
  svg: RefObject<SVGSVGElement | null>;
  /** Moved by the music, past React. */
  now: RefObject<SVGGElement | null>;
}

/** The floor as guests at its front see it, what is on it, and the dance. */
export function PlanDrawing({ floor, scale, plan, handles, svg, now }: Props) {
  const { width, height, metre } = scale;
  const grid = useId();
  const outline = outlineOf(floor);
  const origin = scale.to({ x: 0, y: 0 });
  const front = scale.to({ x: floor.width / 2, y: Math.min(...outline.map(({ y }) => y)) });
  return (
    <svg
      ref={svg}
      role="img"
      aria-label={planSentence(floor.width, floor.depth, floor.things ?? [])}
      viewBox={`0 0 ${width} ${height}`}
      width={width}
      height={height}
      className="mx-auto block h-auto max-w-full select-none"
    >
      <defs>
        <pattern
          id={grid}
          width={metre}
          height={metre}
          x={origin.x}
          y={origin.y}
          patternUnits="userSpaceOnUse"
        >
          <path d={`M0 0H${metre}M0 0V${metre}`} className="fill-none stroke-rule" strokeWidth={0.75} />
        </pattern>
      </defs>
      <polygon points={pointsOf(outline, scale)} className="fill-paper-2 stroke-none" />
      <polygon
        points={pointsOf(outline, scale)}
        fill={`url(#${grid})`}
        className="stroke-ink"
        strokeWidth={2}
        strokeLinejoin="round"
      />
      <Words at={{ x: front.x, y: height - 8 }} soft>
        {words.front}
      </Words>
      {(['guests', 'band'] as const).flatMap((kind) =>
        thingsOf(floor, kind).map((thing) => (
          <Side key={thing.id} floor={floor} thing={thing} scale={scale} />
        )),
      )}
      {plan ? <Dance plan={plan} scale={scale} /> : null}
      {floor.things?.map((thing) => (
        <ThingSign key={thing.id} thing={thing} scale={scale} />
      ))}
      {plan ? (
        <g ref={now} visibility="hidden" data-now="" className="no-print">
          <Couple r={HALF_COUPLE * metre} className="fill-ink stroke-paper" />
        </g>
      ) : null}
      {handles ? <Handles outline={outline} scale={scale} /> : null}
    </svg>
  );
}

/** The dance itself: where they may be, where they are, where phrases begin, how they come on, and how they end. */
function Dance({ plan, scale }: { plan: FloorPlan; scale: Scale }) {
  const { to, metre } = scale;
  const { places, phrases, walk, pose } = plan;
  const begins = to(places[0]!);
  return (
    <>
      <g opacity={0.16} className="fill-ink">
        {bandOf(places).map((place) => {
          const { x, y } = to(place);
          return <circle key={place.at} cx={x} cy={y} r={tenth((place.within + HALF_COUPLE) * metre)} />;
        })}
      </g>
      {walk ? <Dashed from={to(walk.door)} to={begins} className="stroke-ink" /> : null}
      {pose?.shown.map(({ camera }) => (
        <Seen key={camera.id} camera={camera} place={pose.place} scale={scale} />
      ))}
      <polyline
        points={pointsOf(lineOf(places), scale)}
        className="fill-none stroke-ink"
        strokeWidth={1.5}
        strokeLinejoin="round"
        strokeLinecap="round"
      />
      {marksOf(phrases).map(({ place, numbers }) => {
        const { x, y } = to(place);
        return (
          <g key={numbers}>
            <circle cx={x} cy={y} r={4} className="fill-paper stroke-ink" strokeWidth={1.5} />
            <Words at={{ x, y: y - 9 }}>{numbers}</Words>
          </g>
        );
      })}
      <Facing place={places[0]!} scale={scale} className="stroke-ink" />
      {pose ? (
        <g className="fill-none stroke-gold" strokeWidth={2.5}>
          <circle {...circleAt(to(pose.place))} r={tenth(HALF_COUPLE * metre)} />
          <Facing place={pose.place} scale={scale} className="stroke-gold" />
        </g>
      ) : null}
    </>
  );
}

const circleAt = ({ x, y }: Spot) => ({ cx: x, cy: y });

/** The couple from above: the lead looks towards less y. */
function Couple({ r, className }: { r: number; className: string }) {
  return (
    <g className={className} strokeWidth={1.5}>
      <circle r={tenth(r * 0.55)} />
      <path
        d={`M${tenth(-r * 0.3)} ${tenth(-r * 0.45)}L0 ${tenth(-r)}L${tenth(r * 0.3)} ${tenth(-r * 0.45)}Z`}
      />
    </g>
  );
}

/** Which way the lead faces: an arrow out of the ring of the two. */
function Facing({ place, scale, className }: { place: Place; scale: Scale; className: string }) {
  const { x, y } = scale.to(place);
  const r = HALF_COUPLE * scale.metre;
  return (
    <path
      d={`M0 0V${tenth(-r * 1.25)}M-5 ${tenth(-r * 1.25 + 8)}L0 ${tenth(-r * 1.25)}L5 ${tenth(-r * 1.25 + 8)}`}
      transform={`translate(${x} ${y}) rotate(${tenth(place.facing * 45)})`}
      className={`fill-none ${className}`}
      strokeWidth={2}
      strokeLinecap="round"
    />
  );
}

function Dashed({ from, to, className }: { from: Spot; to: Spot; className: string }) {
  return (
    <path
      d={`M${from.x} ${from.y}L${to.x} ${to.y}`}
      className={`fill-none ${className}`}
      strokeWidth={1.5}
      strokeDasharray="7 5"
    />
  );
}

/** What a camera sees of the closing pose. */
function Seen({ camera, place, scale }: { camera: Spot; place: Place; scale: Scale }) {
  const ends = touching(camera, place, HALF_COUPLE + place.within) ?? [];
  return ends.map((end) => (
    <Dashed key={`${end.x} ${end.y}`} from={scale.to(camera)} to={scale.to(end)} className="stroke-gold" />
  ));
}

/** The side that guests or a band have: heads in a row, or a broad line. */
function Side({ floor, thing, scale }: { floor: Floor; thing: Thing; scale: Scale }) {
  const [a, b] = sideOf(outlineOf(floor), thing).map(scale.to) as [Spot, Spot];
  return (
    <path
      d={`M${a.x} ${a.y}L${b.x} ${b.y}`}
      className="fill-none stroke-edge"
      strokeWidth={thing.kind === 'guests' ? 9 : 7}
      strokeLinecap={thing.kind === 'guests' ? 'round' : 'butt'}
      strokeDasharray={thing.kind === 'guests' ? '0.1 15' : '16 5'}
    />
  );
}

/** A sign for each kind, and its name; wide enough under it for a finger. */
function ThingSign({ thing, scale }: { thing: Thing; scale: Scale }) {
  const { x, y } = scale.to(thing);
  const r = tenth((thing.across / 2) * scale.metre);
  const isLow = y > scale.height / 2;
  return (
    <g data-thing={thing.id} className="cursor-move touch-none">
      <circle cx={x} cy={y} r={22} className="fill-transparent stroke-none" />
      <g transform={`translate(${x} ${y})`} className="stroke-ink" strokeWidth={2}>
        {thing.kind === 'pillar' ? <circle r={Math.max(4, r)} className="fill-ink" /> : null}
        {thing.kind === 'door' ? <path d="M-11-6H11V6H-11ZM-11 0H11" className="fill-paper" /> : null}
        {thing.kind === 'camera' ? <path d="M0-10 10 8H-10Z" className="fill-paper" /> : null}
        {thing.kind === 'guests' ? <circle r={6} className="fill-paper" /> : null}
        {thing.kind === 'band' ? <path d="M-7-7H7V7H-7Z" className="fill-paper" /> : null}
      </g>
      <Words at={{ x, y: y + (isLow ? 1 : -1) * (Math.max(8, r) + 8) + 5 }}>{thingWords(thing)}</Words>
    </g>
  );
}

function Words({ at: { x, y }, soft = false, children }: { at: Spot; soft?: boolean; children: string }) {
  return (
    <text
      x={x}
      y={y}
      textAnchor="middle"
      className={`${soft ? 'fill-soft' : 'fill-ink'} stroke-paper text-[15px]`}
      strokeWidth={3.5}
      paintOrder="stroke"
    >
      {children}
    </text>
  );
}

/** Corners to drag, and between them the places for further ones. */
function Handles({ outline, scale }: { outline: readonly Spot[]; scale: Scale }) {
  return outline.map((corner, i) => {
    const next = outline[(i + 1) % outline.length]!;
    const at = scale.to(corner);
    const middle = scale.to({ x: (corner.x + next.x) / 2, y: (corner.y + next.y) / 2 });
    return (
      // The corners of an outline have no name but their number.
      // biome-ignore lint/suspicious/noArrayIndexKey: see above
      <g key={i} className="stroke-ink" strokeWidth={2}>
        <g data-corner={i} className="cursor-move touch-none">
          <circle {...circleAt(at)} r={22} className="fill-transparent stroke-none" />
          <circle {...circleAt(at)} r={9} className="fill-paper" />
        </g>
        <g data-side={i} className="cursor-pointer">
          <circle {...circleAt(middle)} r={22} className="fill-transparent stroke-none" />
          <path d={`M${middle.x - 7} ${middle.y}h14M${middle.x} ${middle.y - 7}v14`} />
        </g>
      </g>
    );
  });
}
