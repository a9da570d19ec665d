// One piece of goods, from its face or from its back. The back is mirrored, says so, is tinted and carries the hook.
import type { Panel, Piece } from "../core/answers";
import { Drawing, type View } from "../draw/Drawing";
import { openJob } from "../state/store";
import { lengthText, Prose } from "../parts/Text";
import { words } from "../words/en";
import { labelShare } from "./labels";

/// A mark that is not its own mirror image: which way it turns tells the side.
const hook = { face: "M26 0V-26H4", back: "M0 0V-26H22" };

export function PieceDrawing({ piece, panel, back }: { piece: Piece; panel: Panel; back: boolean }) {
  const side = back ? piece.from_back : piece.from_face;
  const lines = () => (
    <>
      <path d={side.face} fill="var(--card)" fill-rule="evenodd" stroke="var(--ink)" stroke-width="2.6" />
      <path d={side.net} fill="none" stroke="var(--sea)" stroke-width="1.4" />
      {side.backing !== side.face && <path d={side.backing} fill="none" stroke="var(--ink)" stroke-width="1.4" stroke-dasharray="8 4" />}
      {side.slits.map((d) => (
        <path key={d} d={d} fill="none" stroke="var(--signal)" stroke-width="1.6" />
      ))}
      {side.flap_cuts.map((d) => (
        <path key={d} d={d} fill="none" stroke="var(--ink)" stroke-width="1" />
      ))}
      {side.seams.map((s) => (
        <path key={s.name} d={s.d} fill="none" stroke="var(--ink-2)" stroke-width="1" stroke-dasharray="2 4" />
      ))}
    </>
  );
  const marks = (view: View) => {
    const [along, down] = labelShare(panel, back, view.scale);
    const [x, y] = view.at([side.box[0] + side.box[2] * along, side.box[1] + side.box[3] * down]);
    const [cx, cy] = view.at([side.box[0] + side.box[2] * 0.14, side.box[1] + side.box[3] * 0.24]);
    return (
      <>
        <text class="name" x={x} y={y} text-anchor="middle" style={{ fontSize: "30px" }}>
          {piece.number}
        </text>
        <text x={x} y={y + 24} text-anchor="middle">
          {piece.name}
        </text>
        <path transform={`translate(${cx} ${cy})`} d={back ? hook.back : hook.face} fill="none" stroke="var(--ink)" stroke-width="5" />
        {side.studs.map((s) => {
          const [sx, sy] = view.at(s.place);
          return <circle key={s.id} cx={sx} cy={sy} r="4" fill="none" stroke="var(--ink)" stroke-width="1.6" />;
        })}
      </>
    );
  };
  return (
    <Drawing
      name={`${words.piece(piece.number, piece.name)}, ${back ? words.backMirrored : words.seenFromFace}`}
      subject={`${openJob.value?.id ?? ""}/piece/${piece.id}/${back}`}
      box={side.box}
      seenFrom={back ? words.hook : words.seenFromFace}
      fromBack={back}
      lines={lines}
      marks={marks}
      list={
        <ul>
          <li>
            <Prose text={`${words.size}: ${lengthText(piece.along)} × ${lengthText(piece.across)}`} />
          </li>
          {piece.seams.map((s) => (
            <li key={s.name}>
              <Prose text={`${s.name}: ${lengthText(s.length)}`} />
            </li>
          ))}
          {piece.holes.map((h) => (
            <li key={h.id}>
              <Prose text={`${words.opening(h.id)}: ${h.round ? lengthText(h.post) : `${lengthText(h.along)} × ${lengthText(h.across)}`}, ${h.finish}`} />
            </li>
          ))}
        </ul>
      }
    />
  );
}
