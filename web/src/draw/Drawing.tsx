// A drawing to scale: pan and zoom by touch, mouse and keys, a scale bar, the bow arrow, and the same as a list of words.
import { select } from "d3-selection";
import { zoom, zoomIdentity, type ZoomBehavior, type ZoomTransform } from "d3-zoom";
import type { ComponentChildren } from "preact";
import { useLayoutEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Box, Place } from "../core/answers";
import { ScaleBar } from "./ScaleBar";
import { words } from "../words/en";

/// From drawing space (mm) to the screen: for things that keep their size, such as names and dots.
export interface View {
  scale: number;
  at(place: Place): Place;
}

interface Props {
  name: string;
  box: Box | null;
  seenFrom: string;
  /// In drawing space; strokes keep their width.
  lines: (view: View) => ComponentChildren;
  /// On the screen, above the lines.
  marks?: (view: View) => ComponentChildren;
  list: ComponentChildren;
  bow?: boolean;
  fromBack?: boolean;
  empty?: ComponentChildren;
  note?: ComponentChildren;
  /// What the drawing is of: a change shows the whole of it again.
  subject: string;
}

const margin = 56;

export function Drawing(props: Props) {
  const svg = useRef<SVGSVGElement>(null);
  const [size, setSize] = useState<[number, number]>([800, 500]);
  const [listed, setListed] = useState(false);
  const [moved, setMoved] = useState<ZoomTransform>(zoomIdentity);
  const behaviour = useRef<ZoomBehavior<SVGSVGElement, unknown> | null>(null);

  useLayoutEffect(() => {
    const element = svg.current;
    if (!element) return;
    const observer = new ResizeObserver(() => setSize([element.clientWidth || 1, element.clientHeight || 1]));
    observer.observe(element);
    setSize([element.clientWidth || 1, element.clientHeight || 1]);
    const z = zoom<SVGSVGElement, unknown>()
      .scaleExtent([0.5, 40])
      .clickDistance(6)
      .filter((event: Event) => !(event as MouseEvent).button && !(event.target as Element).closest("[data-drag]"))
      .on("zoom", (event: { transform: ZoomTransform }) => setMoved(event.transform));
    behaviour.current = z;
    select(element).call(z).on("dblclick.zoom", null);
    return () => observer.disconnect();
  }, [props.empty === undefined]);

  const whole = () => svg.current && behaviour.current && select(svg.current).call(behaviour.current.transform, zoomIdentity);
  const byFactor = (factor: number) =>
    svg.current && behaviour.current && select(svg.current).call(behaviour.current.scaleBy, factor);
  const by = (x: number, y: number) =>
    svg.current && behaviour.current && select(svg.current).call(behaviour.current.translateBy, x, y);

  useLayoutEffect(() => void whole(), [props.subject]);

  const fit = useMemo(() => {
    const [x, y, w, h] = props.box ?? [0, 0, 1000, 600];
    const room = Math.min(margin, size[0] / 8);
    const k = Math.min((size[0] - 2 * room) / Math.max(w, 1), (size[1] - 2 * margin - 30) / Math.max(h, 1));
    const scale = Number.isFinite(k) && k > 0 ? k : 0.1;
    return { scale, x: size[0] / 2 - scale * (x + w / 2), y: (size[1] - 20) / 2 - scale * (y + h / 2) };
  }, [props.box, size]);

  const scale = fit.scale * moved.k;
  const tx = moved.applyX(fit.x);
  const ty = moved.applyY(fit.y);
  const view: View = { scale, at: ([x, y]) => [tx + scale * x, ty + scale * y] };

  const keys = (event: KeyboardEvent) => {
    if (event.target !== svg.current) return;
    const step = 60;
    const moves: Record<string, () => unknown> = {
      "+": () => byFactor(1.25),
      "=": () => byFactor(1.25),
      "-": () => byFactor(0.8),
      "0": whole,
      ArrowLeft: () => by(step / moved.k, 0),
      ArrowRight: () => by(-step / moved.k, 0),
      ArrowUp: () => by(0, step / moved.k),
      ArrowDown: () => by(0, -step / moved.k),
    };
    const move = moves[event.key];
    if (!move) return;
    event.preventDefault();
    move();
  };

  if (props.empty) return <div class="drawing">{props.empty}</div>;
  return (
    <figure class={`drawing${props.fromBack ? " from-back" : ""}`}>
      {props.fromBack && <div class="back-band">{words.backMirrored}</div>}
      <div class="field">
      <svg class="view" ref={svg} tabIndex={0} role="group" aria-label={`${props.name}. ${words.drawingKeys}`} onKeyDown={keys}>
        <g transform={`translate(${tx} ${ty}) scale(${scale})`}>{props.lines(view)}</g>
        <g>{props.marks?.(view)}</g>
        {props.bow !== false && (
          <g aria-hidden="true" transform="translate(18 24)">
            <text class="halo" font-size="15">
              {words.bow}
            </text>
            <path d="M36 -5H86M75 -12L86 -5L75 2" fill="none" stroke="var(--ink)" stroke-width="2.4" />
          </g>
        )}
      </svg>
      <div class="foot">
        <ScaleBar scale={scale} />
        <span>
          {props.seenFrom}
          {props.note}
        </span>
      </div>
      <div class="tools">
        <button onClick={() => byFactor(1.4)} aria-label={words.larger}>
          +
        </button>
        <button onClick={() => byFactor(1 / 1.4)} aria-label={words.smaller}>
          −
        </button>
        <button onClick={whole}>{words.whole}</button>
      </div>
      </div>
      <details class="as-list" onToggle={(e) => setListed(e.currentTarget.open)}>
        <summary>{words.asList}</summary>
        {listed && props.list}
      </details>
    </figure>
  );
}
