// Safe keeping: checked copies of the whole book, when the last was made, and proof that one can be put back.
import { useState } from "preact/hooks";
import { book, type Backup } from "../shop/book";
import { useAsked, useSending } from "../state/asked";
import { Dialog } from "../parts/Dialog";
import { Away, Faults, nobodyAnswers, Send } from "../parts/Form";
import { tell } from "../state/store";
import { bookWords as say } from "../words/en_book";

/// "shop 2026-03-01 14-05-09.spile": named by the moment, in the time of Greenwich.
function madeAt(name: string): Date | null {
  const found = /(\d{4}-\d\d-\d\d) (\d\d)-(\d\d)-(\d\d)/.exec(name);
  return found ? new Date(`${found[1]}T${found[2]}:${found[3]}:${found[4]}Z`) : null;
}
const moment = (name: string): string =>
  madeAt(name)?.toLocaleString(undefined, { weekday: "long", day: "numeric", month: "long", year: "numeric", hour: "2-digit", minute: "2-digit" }) ?? name;

const dayLong_ms = 86_400_000;
/// What the book becomes when a copy takes its place.
const isReplaced = (name: string): boolean => name.startsWith("replaced ");
const isBrought = (name: string): boolean => name.startsWith("brought ");

/// After so many days without a copy a person is asked for one.
const mostDays = 7;

function daysSince(name: string): number {
  const made = madeAt(name);
  return made ? Math.floor((Date.now() - made.getTime()) / dayLong_ms) : 0;
}

export function Safe() {
  const [proved, setProved] = useState<Record<string, string>>({});
  const copies = useAsked(() => book.backups(), []);
  const all = copies.answer?.backups ?? [];
  const last = all.find((b) => !isReplaced(b.name) && !isBrought(b.name));
  const old = last ? daysSince(last.name) : 0;
  return (
    <main class="sheet wide-stack" id="content">
      <header class="stack">
        <h1 class="lead">{!copies.answer ? say.screens.safe : last ? say.lastCopy(moment(last.name)) : say.noCopy}</h1>
        <p>{say.safeHelp}</p>
        {copies.answer && (!last || old >= mostDays) && <p class="finding look">{last ? say.copyOld(old) : say.copyNone}</p>}
        <Away asked={copies} />
        {copies.answer?.put_back && <p class="finding note">{copies.answer.put_back}</p>}
        <div class="row">
          <Send
            does={say.makeCopy}
            strong
            onSend={() => book.backUp().then((made) => tell(`${made.name}: ${made.says}`))}
            onDone={copies.again}
          />
          <Send does={say.proveBook} onSend={() => book.proveBook().then((p) => tell(say.bookProved(p.says, p.rolls)))} />
        </div>
      </header>
      {all.length > 0 && (
        <section class="stack" aria-labelledby="copies">
          <h2 id="copies">{say.copies}</h2>
          <ul class="kept copies">
            {all.map((b) => (
              <Copy key={b.name} backup={b} proved={proved[b.name] ?? ""} onProved={(says) => setProved((p) => ({ ...p, [b.name]: says }))} />
            ))}
          </ul>
        </section>
      )}
      <section class="stack" aria-labelledby="putting-back">
        <h2 id="putting-back">{say.puttingBack}</h2>
        {say.puttingBackHelp.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        <Bring onDone={copies.again} />
        {copies.answer && <p class="quiet small">{say.copiesLie(copies.answer.folder)}</p>}
      </section>
    </main>
  );
}

/// A copy from a stick or another machine: taken only when it is the whole book of a shop.
function Bring({ onDone }: { onDone: () => void }) {
  const [share, setShare] = useState<number | null>(null);
  const { refused, send, clear } = useSending(nobodyAnswers);
  const bring = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    if (!file) return;
    clear();
    const brought = await send(() => book.bringCopy(file, setShare).then((made) => tell(say.copyBrought(made.says))));
    setShare(null);
    input.value = "";
    if (brought) onDone();
  };
  return (
    <div class="stack">
      <label style={{ maxWidth: "26rem" }}>
        {say.bringCopy}
        <input type="file" accept=".spile" disabled={share !== null} onChange={(e) => void bring(e.currentTarget)} />
      </label>
      {share !== null && <progress max={1} value={share} aria-label={say.bringing} style={{ width: "100%", maxWidth: "26rem" }} />}
      {refused.length > 0 && <Faults of={refused} />}
    </div>
  );
}

/// Until the machine answers with the copy as its book; until then it may still be ending.
async function waitForMachine(copy: string): Promise<void> {
  for (const start = Date.now(); Date.now() - start < longestRestart_ms; ) {
    await new Promise((done) => setTimeout(done, 500));
    try {
      if ((await book.backups()).put_back.includes(copy)) break;
    } catch {
      // Not yet.
    }
  }
  location.reload();
}
const longestRestart_ms = 60_000;

function PutBack({ backup, onClose }: { backup: Backup; onClose: () => void }) {
  const [waiting, setWaiting] = useState(false);
  return (
    <Dialog title={say.putBackTitle} onClose={waiting ? () => undefined : onClose}>
      <div class="stack">
        <p>
          <b>{moment(backup.name)}</b>
        </p>
        {say.putBackMeans.map((sentence) => (
          <p key={sentence}>{sentence}</p>
        ))}
        {waiting ? (
          <p role="status">{say.startingAgain}</p>
        ) : (
          <div class="row">
            <Send
              does={say.putBackNow}
              strong
              onSend={() => book.putBack(backup.name)}
              onDone={() => {
                setWaiting(true);
                void waitForMachine(backup.name);
              }}
            />
            <button onClick={onClose}>{say.leaveBook}</button>
          </div>
        )}
      </div>
    </Dialog>
  );
}

function Copy({ backup, proved, onProved }: { backup: Backup; proved: string; onProved: (says: string) => void }) {
  const [putting, setPutting] = useState(false);
  return (
    <li class="card">
      <span>
        <b>{moment(backup.name)}</b>
        {isReplaced(backup.name) && ` · ${say.replacedBook}`}
        {isBrought(backup.name) && ` · ${say.broughtCopy}`}
        <br />
        <span class="quiet small">{`${backup.name} · ${say.size(backup.bytes)}`}</span>
        {proved && (
          <>
            <br />
            <span class="settled">✓ {proved}</span>
          </>
        )}
      </span>
      <span class="row">
        <Send does={say.tryCopy} onSend={() => book.tryBackup(backup.name).then((t) => onProved(t.says))} />
        <a class="button" href={book.backupAddress(backup.name)} download={backup.name}>
          {say.carryAway}
        </a>
        <button onClick={() => setPutting(true)}>{say.putBack}</button>
        {putting && <PutBack backup={backup} onClose={() => setPutting(false)} />}
      </span>
    </li>
  );
}
