// Stock: every roll and offcut to scale, how much is left and who holds it; what is tapped is explained and changed beside it.
import { useEffect, useRef, useState } from "preact/hooks";
import { book, type GoodsRow, type Offcut, type Roll } from "../shop/book";
import { ScaleBar } from "../draw/ScaleBar";
import { useAsked } from "../state/asked";
import { Away } from "../parts/Form";
import { inShownUnits, Prose } from "../parts/Text";
import { units } from "../state/store";
import { bookWords as say } from "../words/en_book";
import { AtGoods, AtOffcut, AtRoll, NewGoods, NewRoll } from "./AtStock";
import { OffcutDrawing, RollStrip, useScale } from "./RackDrawing";

export type StockChosen = { kind: "goods" | "roll" | "offcut"; id: number } | { kind: "new goods" | "new roll" } | null;

export const long = (mm: number): string => `${inShownUnits(mm)} ${units.value}`;

export function Stock() {
  const [chosen, choose] = useState<StockChosen>(null);
  const stock = useAsked(async () => {
    const [goods, rolls, offcuts] = await Promise.all([book.goods(), book.rolls(), book.offcuts()]);
    return { goods, rolls, offcuts };
  }, []);
  const here = stock.answer;
  // Where the explanation lies below the drawing it comes into sight.
  const beside = useRef<HTMLElement>(null);
  useEffect(() => {
    if (chosen && matchMedia("(max-width: 1099px)").matches) beside.current?.scrollIntoView({ block: "start" });
  }, [chosen]);
  const none = here !== null && here.goods.length === 0;
  const changed = (next?: StockChosen) => {
    if (next !== undefined) choose(next);
    stock.again();
  };
  return (
    <main class="bench two" id="content">
      <section class="middle rack" aria-label={say.screens.stock}>
        <h1 class="unseen">{say.screens.stock}</h1>
        <Away asked={stock} />
        {none && (
          <div class="stack teach">
            <h2>{say.emptyStock}</h2>
            <ol class="steps">
              {say.emptyStockSteps.map((step) => (
                <li key={step}>{step}</li>
              ))}
            </ol>
          </div>
        )}
        {here && !none && <Rack {...here} chosen={chosen} choose={choose} />}
      </section>
      <aside ref={beside} class="side right wide-stack" tabIndex={0} aria-label={say.chosenStock}>
        {here && (
          <>
            <Chosen {...here} chosen={chosen} changed={changed} />
            {chosen?.kind === "new roll" && !none && <NewRoll goods={here.goods} onDone={() => changed(null)} />}
            {!none && (
              <div class="row">
                {chosen?.kind !== "new roll" && (
                  <button class="strong" onClick={() => choose({ kind: "new roll" })}>
                    {say.rollCameIn}
                  </button>
                )}
                {chosen?.kind !== "new goods" && <button onClick={() => choose({ kind: "new goods" })}>{say.newGoods}</button>}
              </div>
            )}
            {(chosen?.kind === "new goods" || none) && <NewGoods onDone={() => changed(none ? { kind: "new roll" } : null)} />}
          </>
        )}
      </aside>
    </main>
  );
}

interface Held {
  goods: GoodsRow[];
  rolls: Roll[];
  offcuts: Offcut[];
}

function Chosen({ goods, rolls, offcuts, chosen, changed }: Held & { chosen: StockChosen; changed: (next?: StockChosen) => void }) {
  if (chosen?.kind === "roll") {
    const roll = rolls.find((r) => r.id === chosen.id);
    if (roll) return <AtRoll key={roll.id} roll={roll} goods={goods.find((g) => g.id === roll.goods)} onChanged={() => changed()} />;
  }
  if (chosen?.kind === "offcut") {
    const offcut = offcuts.find((o) => o.id === chosen.id);
    if (offcut)
      return <AtOffcut key={offcut.id} offcut={offcut} goods={goods.find((g) => g.id === offcut.goods)} onGone={() => changed(null)} />;
  }
  if (chosen?.kind === "goods") {
    const row = goods.find((g) => g.id === chosen.id);
    if (row) return <AtGoods key={row.id} row={row} inUse={rolls.some((r) => r.goods === row.id)} onChanged={changed} />;
  }
  if (chosen !== null || goods.length === 0) return null;
  return <p class="quiet">{say.tapARoll}</p>;
}

function Rack({ goods, rolls, offcuts, chosen, choose }: Held & { chosen: StockChosen; choose: (c: StockChosen) => void }) {
  const is = (kind: string, id: number) => chosen !== null && "id" in chosen && chosen.kind === kind && chosen.id === id;
  const longest = Math.max(1, ...rolls.map((r) => r.received_mm));
  const largest = Math.max(1, ...offcuts.map((o) => o.box?.[2] ?? 0));
  const [frame, scale, bar] = useScale(longest, 26);
  const offcutScale = Math.min(240 / largest, 0.3);
  return (
    <div class="rack-list" ref={frame}>
      {rolls.length > 0 && <div class="rack-scale">{bar}</div>}
      {goods.map((g) => {
        const ofThese = rolls.filter((r) => r.goods === g.id);
        const left = offcuts.filter((o) => o.goods === g.id);
        return (
          <section key={g.id} aria-label={g.name}>
            <h2>
              <button class="plain" aria-pressed={is("goods", g.id)} onClick={() => choose({ kind: "goods", id: g.id })}>
                {g.name}
              </button>
            </h2>
            {ofThese.length === 0 && left.length === 0 && <p class="quiet">{say.noneOfThese}</p>}
            <ul class="rolls">
              {ofThese.map((r) => (
                <li key={r.id}>
                  <button class="roll" aria-pressed={is("roll", r.id)} onClick={() => choose({ kind: "roll", id: r.id })}>
                    <span class="roll-words">
                      <b>{say.lot(r.lot, r.label)}</b>
                      <span>
                        <Prose text={say.left(long(r.left_mm))} />
                        {r.reserved_mm > 0 && (
                          <>
                            , <Prose text={say.reserved(long(r.reserved_mm))} />
                          </>
                        )}
                      </span>
                    </span>
                    <RollStrip roll={r} width={g.goods} scale={scale} />
                  </button>
                </li>
              ))}
            </ul>
            {left.length > 0 && (
              <>
                <h3 class="offcuts-head">{say.offcuts}</h3>
                <div class="rack-scale">
                  <ScaleBar scale={offcutScale} />
                </div>
                <ul class="offcuts">
                  {left.map((o) => (
                    <li key={o.id}>
                      <button class="offcut" aria-pressed={is("offcut", o.id)} onClick={() => choose({ kind: "offcut", id: o.id })}>
                        <OffcutDrawing offcut={o} scale={offcutScale} />
                        <span>
                          <b>{say.offcut(o.id)}</b>{" "}
                          <span class="quiet">
                            <Prose text={say.lot(o.lot, "")} />
                          </span>
                          <br />
                          <Prose text={`${inShownUnits(o.length_mm)} × ${long(o.width_mm)}`} />
                        </span>
                      </button>
                    </li>
                  ))}
                </ul>
              </>
            )}
          </section>
        );
      })}
    </div>
  );
}
