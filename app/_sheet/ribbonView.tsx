import type { KeyboardEvent, PointerEvent } from 'react';
import type { Ribbon } from '@/lib/core/handover/sheetInk.ts';
import { fitting, HALF, LINE, outlinePath, RAISE, ribbonPath, WORDS, widthOf } from './shapes.ts';

export interface RibbonHandlers {
  onGrab(id: string, event: PointerEvent): void;
  onKey(id: string, event: KeyboardEvent): void;
  onHold(id: string): void;
  /** The ending is solved, not dragged: choosing a move of it opens its drawer. */
  onEnding(): void;
  /** Takes what a finger may drag. */
  touchable(element: SVGElement | null): void;
}

interface Props {
  ribbon: Ribbon;
  /** Px from the row's left end. */
  from: number;
  to: number;
  /** Px until the next thing above the line. */
  room: number;
  /** Px that are free before it: into these its words lean where the room does not hold them. */
  lean: number;
  /** A sentence for whoever cannot see where it lies. */
  label: string;
  chosen: boolean;
  /** Somebody else has it in hand. */
  held: boolean;
  /** Null where nothing may be changed. */
  handlers: RibbonHandlers | null;
}

/** A move, or its piece in this row: ink when it fits, an outline when it does not. */
export function RibbonView({ ribbon, from, to, room, lean, label, chosen, held, handlers }: Props) {
  const middle = LINE - (ribbon.raised ? RAISE : 0);
  const inside = widthOf(ribbon.label) + 20 <= to - from;
  const over = Math.max(0, widthOf(ribbon.label) - room);
  const back = over <= lean ? over : 0;
  const words = inside ? ribbon.label : ribbon.begins ? fitting(ribbon.label, room + back) : '';
  const lead = ribbon.begins && handlers !== null;
  const drawn = (
    <>
      {ribbon.begins ? <title>{ribbon.label}</title> : null}
      {ribbon.outline ? (
        <path
          d={outlinePath(from, to, middle, ribbon)}
          className="fill-paper/60 stroke-wine"
          strokeWidth={1.6}
          strokeDasharray="5 3.5"
        />
      ) : (
        <path d={ribbonPath(from, to, middle, ribbon)} className="fill-ink" />
      )}
      {ribbon.begins && words ? (
        <text
          x={inside ? from + 11 : from - back}
          y={inside ? middle + 5 : ribbon.raised ? middle - HALF - 4 : WORDS + 2}
          className={`pointer-events-none text-[15px] font-semibold ${inside && !ribbon.outline ? 'fill-paper' : ribbon.outline ? 'fill-wine' : 'fill-ink'}`}
        >
          {words}
        </text>
      ) : null}
      {chosen || held ? (
        <rect
          x={from - 3.5}
          y={middle - HALF - 3.5}
          width={to - from + 7}
          height={2 * HALF + 7}
          rx={HALF + 3.5}
          className="no-print fill-none stroke-ink"
          strokeWidth={2}
          strokeDasharray={chosen ? undefined : '2 4'}
        />
      ) : null}
    </>
  );
  if (!handlers) return <g>{drawn}</g>;
  if (ribbon.part === 'ending') {
    return (
      // biome-ignore lint/a11y/useSemanticElements: inside a drawing there are no HTML buttons
      <g
        role="button"
        tabIndex={ribbon.begins ? 0 : -1}
        aria-label={`${label}, in the ending: change the ending`}
        className="cursor-pointer"
        onClick={handlers.onEnding}
        onKeyDown={(event) => {
          if (event.key === 'Enter' || event.key === ' ') handlers.onEnding();
        }}
      >
        {drawn}
      </g>
    );
  }
  const grab = (
    // biome-ignore lint/a11y/noStaticElementInteractions: the pointer's part of the button around it
    <rect
      x={from}
      y={middle - 22}
      width={Math.max(to - from, 24)}
      height={44}
      className="fill-transparent"
      ref={handlers.touchable}
      onPointerDown={(event) => handlers.onGrab(ribbon.id, event)}
      // The focus comes when it is let go unmoved: what opens then must not push the sheet from under the pointer.
      onMouseDown={(event) => event.preventDefault()}
    />
  );
  if (!lead) {
    return (
      <g className="cursor-grab">
        {drawn}
        {grab}
      </g>
    );
  }
  return (
    // biome-ignore lint/a11y/useSemanticElements: inside a drawing there are no HTML buttons
    <g
      id={`ribbon-${ribbon.id}`}
      role="button"
      tabIndex={0}
      aria-label={label}
      aria-pressed={chosen}
      aria-describedby="ribbon-keys"
      className="cursor-grab"
      onKeyDown={(event) => handlers.onKey(ribbon.id, event)}
      onFocus={() => handlers.onHold(ribbon.id)}
    >
      {drawn}
      {grab}
    </g>
  );
}
