// Small pieces the shop sells, cut from what a layout leaves beside the panels.
import { Choose, Input, LengthInput, withUnit, type Typed } from "../parts/Form";
import { bookWords as say } from "../words/en_book";
import { GoodsList, type OfGoods } from "./GoodsList";

type Filler = OfGoods<"fillers">;

const sizeOf = (f: Filler): string => ("size" in f && f.size !== undefined ? String(f.size) : say.fillerRound(String(f.diameter ?? "")));

function typed(t: Typed): Filler | null {
  const round = t.text("across") === "";
  if (t.mm("along") === null || (!round && t.mm("across") === null)) return null;
  const along = withUnit(t.text("along"));
  const size = round ? { diameter: along } : { size: `${along} x ${withUnit(t.text("across"))}` };
  const held = t.text("direction") === "held";
  return { name: t.text("name"), ...size, most: t.whole("most") || 1, ...(held ? {} : { direction: "none" }) } as Filler;
}

export function Fillers() {
  return (
    <GoodsList
      field="fillers"
      heading={say.fillers}
      is={(f) => say.fillerIs(f.most ?? 1, f.name, sizeOf(f))}
      out={(f) => say.fillerOut(f.name)}
      does={say.addFiller}
      typed={typed}
      into={(f) => say.fillerIn(f.name)}
    >
      <Input label={say.fillerName} name="name" example={say.fillerExample} required />
      <div class="pair">
        <LengthInput label={say.fillerAlong} name="along" required />
        <LengthInput label={say.fillerAcross} name="across" mayBeEmpty />
      </div>
      <div class="pair">
        <Input label={say.fillerMost} name="most" mode="numeric" value="4" required />
        <Choose label={say.fillerDirection} name="direction" all={Object.entries(say.fillerDirections)} />
      </div>
      <p class="hint">{say.fillersHelp}</p>
    </GoodsList>
  );
}
