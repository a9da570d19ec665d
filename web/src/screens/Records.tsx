// What is written down beside a job's document: notes, photographs and other files, the minutes of the finished ticket.
import { book, type KeptFile } from "../shop/book";
import { useAsked } from "../state/asked";
import { Away, Form, Input, Send } from "../parts/Form";
import { asBase64 } from "../parts/base64";
import { moment } from "../parts/dates";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";

export function Records({ id, finished }: { id: string; finished: boolean }) {
  const asked = useAsked(async () => {
    const [notes, files, tickets] = await Promise.all([book.notes(id), book.files(id), book.tickets()]);
    return { notes, files, minutes: tickets.find((t) => t.job === Number(id))?.minutes ?? null };
  }, [id]);
  const here = asked.answer;
  return (
    <section class="stack" aria-labelledby="records">
      <h2 id="records">{say.writtenDownBeside}</h2>
      <Away asked={asked} />
      {here && here.notes.length > 0 && (
        <ol class="story">
          {here.notes.map((n) => (
            <li key={n.id}>
              <span>{n.text}</span>
              <span />
              <span class="quiet small">{`${moment(n.at)}${n.by ? ` · ${n.by}` : ""}`}</span>
            </li>
          ))}
        </ol>
      )}
      <Form does={say.addNote} onDone={asked.again} onSend={(t) => book.addNote(id, t.text("text"))}>
        <Input label={say.note} name="text" required example={say.noteExample} />
      </Form>
      {here && <Files id={id} files={here.files} onChanged={asked.again} />}
      {here && finished && (
        <Form
          does={say.writeMinutes}
          keep
          done={say.minutesKept}
          onDone={asked.again}
          onSend={(t) => book.writeTicket(id, Number(t.text("minutes")) || 0)}
        >
          <Input label={say.minutesTaken} name="minutes" required mode="numeric" value={here.minutes === null ? "" : String(here.minutes)} help={say.minutesHelp} />
        </Form>
      )}
    </section>
  );
}

function Files({ id, files, onChanged }: { id: string; files: KeptFile[]; onChanged: () => void }) {
  return (
    <>
      {files.length > 0 && (
        <ul class="files">
          {files.map((f) => (
            <li key={f.id} class="card">
              <a href={book.fileAddress(id, f.id)} target="_blank" rel="noopener">
                {f.media.startsWith("image/") && <img src={book.fileAddress(id, f.id)} alt="" loading="lazy" />}
                {f.name}
              </a>
              <Send does={words.remove} plain onSend={() => book.removeFile(id, f.id)} onDone={onChanged} />
            </li>
          ))}
        </ul>
      )}
      <Form
        does={say.keepFile}
        onDone={onChanged}
        onSend={(t) => {
          const file = t.file("file");
          if (!file) return undefined;
          return asBase64(file).then((base64) => book.addFile(id, file.name, file.type || "application/octet-stream", base64));
        }}
      >
        <label>
          {say.photograph}
          <input type="file" name="file" required />
        </label>
      </Form>
    </>
  );
}
