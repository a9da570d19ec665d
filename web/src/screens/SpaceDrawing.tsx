// A space as taped: sides, ties, points with their doubt.
import { useState } from "preact/hooks";
import type { Space, Stroke, Survey, SurveyPoint } from "../core/answers";
import { Drawing, type View } from "../draw/Drawing";
import { placeNames } from "../draw/names";
import { chosen, choose, openJob } from "../state/store";
import { inShownUnits, Prose, SvgText } from "../parts/Text";
import { words } from "../words/en";

const doubtTimes = 20;
/// Less than a tenth of a pixel is not seen, and would be written anew all the same.
const tenth = (px: number): number => Math.round(px * 10) / 10;

function strokeClass(s: Stroke, survey: Survey): string {
  const isSide = s.kind === "side" || s.kind === "curve";
  const base = isSide ? "l-side" : s.kind === "tie" ? "l-tie" : "l-baseline";
  const suspect = survey.suspects.some((x) => x.id === s.reading) ? " suspect l-tie" : "";
  const here = chosen.value?.kind === "reading" && chosen.value.id === s.reading && s.reading ? " chosen l-tie" : "";
  return base + suspect + here;
}

export function SpaceDrawing({ space }: { space: Space }) {
  const [hover, setHover] = useState("");
  const survey = space.survey;
  if (!survey) return null;
  const corners = new Set(space.walk);
  const lines = () => (
    <>
      {survey.strokes
        .filter((s) => s.kind !== "side" && s.kind !== "curve")
        .map((s) => (
          <path key={s.reading + s.kind} class={strokeClass(s, survey) + (hover === s.reading ? " chosen" : "")} d={s.d} />
        ))}
      {survey.strokes
        .filter((s) => s.kind === "side" || s.kind === "curve")
        .map((s) => (
          <path key={s.from + s.to} class="l-side" d={s.d} />
        ))}
      {survey.points.map((p) => (
        <ellipse
          key={p.name}
          class="l-doubt"
          transform={`translate(${p.at[0]} ${p.at[1]}) rotate(${p.doubt.turned_deg})`}
          rx={Math.min(p.doubt.long_mm * doubtTimes, 400)}
          ry={Math.min(p.doubt.short_mm * doubtTimes, 400)}
        />
      ))}
      {survey.strokes
        .filter((s) => s.reading && s.kind === "tie")
        .map((s) => (
          <path
            key={`t${s.reading}`}
            class="l-touch"
            d={s.d}
            onPointerEnter={() => setHover(s.reading)}
            onPointerLeave={() => setHover("")}
            onClick={() => choose("reading", s.reading)}
          />
        ))}
    </>
  );
  const isBig = (p: SurveyPoint): boolean => corners.has(p.name) || corners.size === 0;
  const marks = (view: View) => {
    const box = survey.box ?? [0, 0, 0, 0];
    const named = [...survey.points].sort((a, b) => Number(isBig(b)) - Number(isBig(a)));
    const names = placeNames(
      named.map((p) => ({ name: p.name, at: view.at(p.at), size_px: isBig(p) ? 17 : 14 })),
      view.at([box[0] + box[2] / 2, box[1] + box[3] / 2]),
    );
    return (
      <>
        {survey.loose.map((p) => {
          const [x, y] = view.at(p.at);
          return (
            <g key={p.name}>
              <circle class="l-loose" cx={x} cy={y} r="7" />
              <text class="halo name" x={x + 14} y={y + 6}>
                {p.name}?
              </text>
            </g>
          );
        })}
        {survey.points.map((p) => {
          const [x, y] = view.at(p.at);
          const name = names.get(p.name) ?? { x, y, anchor: "middle" };
          const big = isBig(p);
          const here = chosen.value?.kind === "point" && chosen.value.id === `${space.id}/${p.name}`;
          return (
            <g
              key={p.name}
              transform={`translate(${tenth(x)} ${tenth(y)})`}
              onClick={() => choose("point", `${space.id}/${p.name}`)}
              style={{ cursor: "pointer" }}
            >
              <circle r="14" fill="transparent" />
              {here && <circle r="11" fill="none" stroke="var(--sea)" stroke-width="3" />}
              <circle class="l-point" r={big ? 4.5 : 3} />
              <text
                class={big ? "name halo" : "halo"}
                x={tenth(name.x - x)}
                y={tenth(name.y - y)}
                text-anchor={name.anchor}
                font-size={big ? 17 : 14}
                style={{ fontSize: big ? "17px" : "14px" }}
              >
                <SvgText text={p.name} />
              </text>
            </g>
          );
        })}
      </>
    );
  };
  return (
    <Drawing
      name={`${space.id}, ${words.seenFromAbove}`}
      subject={`${openJob.value?.id ?? ""}/${space.id}`}
      box={survey.box}
      seenFrom={`${words.seenFromAbove} · `}
      note={words.doubtDrawn(doubtTimes)}
      bow={space.bow.length === 2}
      lines={lines}
      marks={marks}
      list={<PointList survey={survey} />}
    />
  );
}

function PointList({ survey }: { survey: Survey }) {
  return (
    <ul>
      <li>{survey.verdict}</li>
      {survey.points.map((p) => (
        <li key={p.name}>
          <Prose text={words.pointSure(p.name, inShownUnits(p.x_mm), inShownUnits(p.y_mm))} />
        </li>
      ))}
      {survey.loose.map((p) => (
        <li key={p.name}>{words.pointLoose(p.name)}</li>
      ))}
    </ul>
  );
}
