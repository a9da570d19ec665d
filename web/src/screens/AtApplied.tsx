// A piece of its own that is put on a panel: what it is, where it lies, how it is finished and held; and making a new one.
import { useEffect, useState } from "preact/hooks";
import type { Edit, Finding, Panel, SaidPanel } from "../core/answers";
import { act, choose, derived, inTheWay, wouldStop } from "../state/store";
import { step } from "../state/places";
import { Choices, Field, LengthField, Pick } from "../parts/Field";
import { Faults } from "../parts/Form";
import { words } from "../words/en";
import { edgesGiven } from "./edges";
import { editsOf } from "./given";
import { panelView } from "./Panels";
import { picking, pointsIn } from "./picking";
import { cornerName } from "./AtOpening";

type SaidApplied = NonNullable<SaidPanel["applied"]>[number];
type Value = SaidApplied[keyof SaidApplied];
type Place = "edge" | "size" | "diameter" | "outline";

const placeOf = (said: SaidApplied): Place =>
  said.edge !== undefined ? "edge" : said.diameter !== undefined ? "diameter" : said.outline !== undefined ? "outline" : "size";
const usualSide = (kind: string) => (kind === "non-slip patch" || kind === "hook-and-loop" ? "back" : "face");
const text = (value: Value): string => (typeof value === "string" || typeof value === "number" ? String(value) : "");
const edges = (panel: Panel): [string, string][] => edgesGiven(panel).map(([name]) => [name, name]);

export function AtApplied({ panel, said, id }: { panel: Panel; said: SaidPanel; id: string }) {
  const now = said.applied?.find((a) => a.id === id);
  if (!now) return null;
  const target = `/panels/${step(panel.id)}/applied/${step(id)}`;
  const name = words.applied(now.kind, id);
  const place = placeOf(now);
  const { edit, take } = editsOf(panel.id, target, name, now);
  const typed = (label: string, field: keyof SaidApplied, example = "", help = "", read: (t: string) => Value | "" = (t) => t, shown = text(now[field])) => (
    <Field
      label={label}
      value={shown}
      example={example}
      help={help}
      wrong={(t) => inTheWay(panel.id, [edit(field, read(t))])}
      onTake={(t) => act(`${name}, ${label}: ${t}`, [edit(field, read(t))])}
    />
  );
  const length = (label: string, field: keyof SaidApplied, mayBeEmpty = true, help = "") => (
    <LengthField
      label={label}
      value={text(now[field])}
      units={derived.value.units}
      mayBeEmpty={mayBeEmpty}
      help={help}
      wrong={(t) => inTheWay(panel.id, [edit(field, t)])}
      onTake={(t) => act(`${name}, ${label}: ${t}`, [edit(field, t)])}
    />
  );
  const choice = (legend: string, field: keyof SaidApplied, usual: string, all: Record<string, [string, string]>) => (
    <Choices legend={legend} name={`applied-${field}`} value={text(now[field]) || usual} all={all} onTake={(v) => take(v, [edit(field, v as Value)])} />
  );
  const finish = (v: string) => {
    const turn = v !== "turned" && now.turned_by !== undefined ? [edit("turned_by", "")] : [];
    take(v, [edit("finish", v as Value), ...turn]);
  };
  /// Goods and their width come and go together: neither is known without the other.
  const goods = (t: string) => {
    if (t) return take(t, [edit("goods", t), ...(now.goods_width === undefined ? [edit("goods_width", now.width ?? 48)] : [])]);
    const own = (["goods", "goods_width", "goods_thickness", "direction"] as const).filter((f) => now[f] !== undefined);
    take(words.appliedGoods, own.map((f) => edit(f, "")));
  };
  return (
    <>
      <h2>{name}</h2>
      <p class="quiet">{words.appliedPlaces[place]?.join(", ")}</p>
      {place === "edge" && (
        <>
          <Pick label={words.appliedEdge} value={edgeSaid(now.edge ?? "", panel)} all={edges(panel)} onTake={(v) => take(v, [edit("edge", v)])} />
          {length(words.appliedWidth, "width", false)}
          {length(words.appliedFromEdge, "from_edge", true, words.appliedFromEdgeHelp)}
          {length(words.appliedStart, "start")}
          {length(words.appliedLength, "length", true, words.appliedLengthHelp)}
        </>
      )}
      {(place === "size" || place === "diameter") && typed(words.openingAt, "at", panel.mat ? words.openingAtMat : "P")}
      {place === "diameter" && length(words.appliedDiameter, "diameter", false)}
      {place === "size" && (
        <>
          {typed(words.appliedSize, "size", words.openingSizeExample)}
          {length(words.openingRadius, "radius")}
          {!panel.mat && typed(words.openingAlong, "along", words.openingAlongExample)}
        </>
      )}
      {place === "outline" &&
        typed(words.openingOutline, "outline", "T1 T2 T3", "", (t) => pointsIn(t).map((at) => now.outline?.find((c) => cornerName(c) === at) ?? at), (now.outline ?? []).map(cornerName).join(" "))}
      {choice(words.appliedSide, "side", usualSide(now.kind), words.appliedSides)}
      <Choices legend={words.appliedFinish} name="applied-finish" value={now.finish ?? "raw"} all={words.appliedFinishes} onTake={finish} />
      {now.finish === "turned" && length(words.appliedTurn, "turned_by")}
      {choice(words.appliedHeld, "held", "sewn", words.appliedHolds)}
      {now.kind === "hook-and-loop" && choice(words.appliedHalf, "half", "hook", words.appliedHalves)}
      <Field label={words.appliedGoods} value={now.goods ?? ""} help={words.appliedGoodsHelp} onTake={goods} />
      {now.goods !== undefined && (
        <>
          {length(words.appliedGoodsWidth, "goods_width", false)}
          {length(words.appliedGoodsThickness, "goods_thickness")}
          {choice(words.appliedDirection, "direction", now.kind === "hook-and-loop" ? "none" : "held", words.appliedDirections)}
        </>
      )}
      <button
        onClick={() => {
          if (act(`${words.remove}: ${id}`, [{ target, field: "", old: now }])) choose("panel", panel.id);
        }}
      >
        {words.remove}
      </button>
    </>
  );
}

/// An edge may be said either way round; the list holds one of them.
function edgeSaid(said: string, panel: Panel): string {
  const turned = said.split(" ").reverse().join(" ");
  return edges(panel).find(([name]) => name === said || name === turned)?.[0] ?? said;
}

/// What is put on a panel, and a form for another.
export function AppliedOf({ panel, said }: { panel: Panel; said: SaidPanel }) {
  return (
    <>
      {(said.applied ?? []).length > 0 && (
        <div class="row">
          {(said.applied ?? []).map((a) => (
            <button key={a.id} onClick={() => choose("applied", `${panel.id}/${a.id}`)}>
              {words.applied(a.kind, a.id)}
            </button>
          ))}
        </div>
      )}
      <NewApplied panel={panel} said={said} />
    </>
  );
}

const placesOf: Record<string, Place[]> = {
  "facing strip": ["edge", "size", "outline"],
  "heel pad": ["size", "diameter", "outline", "edge"],
  "non-slip patch": ["size", "diameter", "outline", "edge"],
  "hook-and-loop": ["edge", "size"],
};

function NewApplied({ panel, said }: { panel: Panel; said: SaidPanel }) {
  const [kind, setKind] = useState("");
  const [place, setPlace] = useState<Place>("size");
  const [stopped, setStopped] = useState<Finding[]>([]);
  const give = () => {
    if (picking.value?.panel === panel.id) picking.value = null;
  };
  useEffect(() => give, [panel.id]);
  const lies = (p: Place) => {
    setPlace(p);
    setStopped([]);
    panelView.value = "above";
    const most = p === "edge" ? 0 : p === "outline" ? 500 : 1;
    picking.value = most > 0 && !panel.mat ? { panel: panel.id, most, names: [] } : null;
  };
  const is = (k: string) => {
    setKind(k);
    lies(placesOf[k]?.[0] ?? "size");
  };
  if (!kind) return <button onClick={() => is("heel pad")}>{words.addApplied}</button>;
  const add = (event: Event) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const field = (name: string) => String(data.get(name) ?? "").trim();
    const id = field("id");
    const piece = { id, kind } as SaidApplied;
    if (place === "outline") piece.outline = pointsIn(field("place"));
    else if (place !== "edge") piece.at = field("place");
    for (const key of ["edge", "width", "size", "diameter", "goods", "goods_width"] as const)
      if (field(key)) piece[key] = field(key);
    const edits: Edit[] = [{ target: `/panels/${step(panel.id)}/applied/${step(id)}`, field: "", new: piece }];
    const inTheWayNow = wouldStop(panel.id, edits);
    setStopped(inTheWayNow);
    if (inTheWayNow.length > 0 || !act(words.applied(kind, id), edits)) return;
    setKind("");
    give();
    choose("applied", `${panel.id}/${id}`);
  };
  const taken = new Set(said.applied?.map((a) => a.id));
  let free = kind;
  for (let n = 2; taken.has(free); n++) free = `${kind} ${n}`;
  const places = (placesOf[kind] ?? []).filter((p) => p !== "outline" || !panel.mat);
  const input = (name: string, label: string, example: string, needed = true) => (
    <label key={name}>
      {label}
      <input name={name} required={needed} placeholder={example} autocomplete="off" spellcheck={false} />
    </label>
  );
  const choices = (legend: string, name: string, all: string[], is: string, said: Record<string, [string, string]>, on: (v: string) => void) => (
    <fieldset>
      <legend>{legend}</legend>
      <div class="choices">
        {all.map((v) => (
          <label class="choice" key={v}>
            <input type="radio" name={name} checked={v === is} onChange={() => on(v)} />
            <span>
              <b>{said[v]?.[0]}</b> <span class="quiet">{said[v]?.[1]}</span>
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
  return (
    <form class="card stack" onSubmit={add} aria-label={words.addApplied}>
      <p class="hint">{words.appliedHelp}</p>
      {choices(words.appliedKind, "kind", Object.keys(words.appliedKinds), kind, words.appliedKinds, is)}
      {choices(words.appliedLies, "lies", places, place, words.appliedPlaces, (v) => lies(v as Place))}
      <label key={kind}>
        {words.openingName}
        <input name="id" required maxLength={40} defaultValue={free} autocomplete="off" />
      </label>
      {place === "edge" ? (
        <label>
          {words.appliedEdge}
          <select name="edge">
            {edges(panel).map(([key, title]) => (
              <option value={key} key={key}>
                {title}
              </option>
            ))}
          </select>
        </label>
      ) : (
        <label>
          {place === "outline" ? words.openingOutline : words.openingAt}
          <input
            name="place"
            required
            autocomplete="off"
            spellcheck={false}
            placeholder={panel.mat ? words.openingAtMat : "P"}
            {...(picking.value?.panel === panel.id
              ? {
                  value: picking.value.names.join(" "),
                  onInput: (e: Event) => {
                    const now = picking.value;
                    if (now) picking.value = { ...now, names: (e.currentTarget as HTMLInputElement).value.split(/[\s,]+/) };
                  },
                }
              : {})}
          />
        </label>
      )}
      {place === "edge" && input("width", words.appliedWidth, "2")}
      {place === "size" && input("size", words.appliedSize, words.openingSizeExample)}
      {place === "diameter" && input("diameter", words.appliedDiameter, "6")}
      {input("goods", words.appliedGoods, "", kind === "hook-and-loop")}
      {input("goods_width", words.appliedGoodsWidth, "", kind === "hook-and-loop")}
      {stopped.length > 0 && <Faults of={stopped} />}
      <div class="row">
        <button class="strong" type="submit">
          {words.makeApplied}
        </button>
        <button
          type="button"
          onClick={() => {
            setKind("");
            give();
          }}
        >
          {words.cancel}
        </button>
      </div>
    </form>
  );
}
