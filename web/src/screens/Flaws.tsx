// Places of the goods that cannot be used: no piece is laid on them.
import { Input, LengthInput, withUnit, type Typed } from "../parts/Form";
import { bookWords as say } from "../words/en_book";
import { GoodsList, type OfGoods } from "./GoodsList";

type Flaw = OfGoods<"flaws">;

const called = (f: Flaw, i: number): string => f.name ?? String(i + 1);

function typed(t: Typed): Flaw | null {
  if (t.mm("from") === null || t.mm("to") === null) return null;
  const [near, far] = [withUnit(t.text("near")), withUnit(t.text("far"))];
  return {
    ...(t.text("what") ? { name: t.text("what") } : {}),
    from: withUnit(t.text("from")),
    to: withUnit(t.text("to")),
    ...(near ? { near } : {}),
    ...(far ? { far } : {}),
  };
}

export function Flaws() {
  return (
    <GoodsList
      field="flaws"
      heading={say.flaws}
      is={(f, i) => say.flawIs(called(f, i), String(f.from), String(f.to))}
      out={(f, i) => say.flawOut(called(f, i))}
      does={say.noteFlaw}
      typed={typed}
      into={(f) => say.flawIn(f.name ?? "")}
    >
      <Input label={say.whatFlaw} name="what" example={say.flawExample} />
      <div class="pair">
        <LengthInput label={say.flawFrom} name="from" required />
        <LengthInput label={say.flawTo} name="to" required />
      </div>
      <div class="pair">
        <LengthInput label={say.flawNear} name="near" mayBeEmpty />
        <LengthInput label={say.flawFar} name="far" mayBeEmpty />
      </div>
      <p class="hint">{say.flawJobHelp}</p>
    </GoodsList>
  );
}
