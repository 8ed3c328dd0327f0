// Passing the job on: as a link that holds it, as a code for a camera, as a file.

import { useSignal, useSignalEffect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { encode } from "uqr";
import { fileName, hand, textOf } from "../keep/file";
import { codesOf, designOf, linkOf, pack } from "../keep/link";
import { job, tell } from "../state";
import { words } from "words:page";
import { Switch } from "./fields";
import { Icon } from "./marks";

const w = words.pass;
const json = "application/json";

/** The job as a file that the device agrees to send: some let no JSON through. */
function sendable(): File | null {
  const { name } = job.peek();
  const text = textOf(job.peek());
  const { canShare } = navigator as { canShare?: Navigator["canShare"] };
  if (!canShare) return null;
  const kinds = [[json, "json"], ["text/plain", "txt"]] as const;
  const files = kinds.map(([type, ending]) => new File([text], fileName(name, ending), { type }));
  return files.find((file) => canShare.call(navigator, { files: [file] })) ?? null;
}

async function share(what: ShareData): Promise<boolean> {
  try {
    await navigator.share(what);
    return true;
  } catch (reason) {
    // Thought better of it.
    return reason instanceof DOMException && reason.name === "AbortError";
  }
}

export function PassView() {
  const readings = useSignal(true);
  const packed = useSignal<string | null>(null);
  const showing = useSignal(false);
  const byHand = useSignal(false);
  useSignalEffect(() => {
    const of = readings.value ? job.value : designOf(job.value);
    let late = false;
    void pack(of).then((text) => {
      if (!late) packed.value = text;
    });
    return () => (late = true);
  });
  const text = packed.value;
  const codes = text === null ? [] : codesOf(text);
  const link = text === null ? "" : linkOf(text);
  const hasAddress = location.protocol !== "file:";
  const file = sendable();
  const canSend = "share" in navigator;
  // Over plain http a browser has no clipboard to write to at all.
  const { clipboard } = navigator as { clipboard?: Clipboard };
  const copy = () => {
    if (clipboard) clipboard.writeText(link).then(() => tell(w.copied, false), () => (byHand.value = true));
    else byHand.value = true;
  };
  return (
    <div class="sheet">
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      {hasAddress ? (
        <section aria-labelledby="link">
          <h2 id="link">{w.link}</h2>
          <p class="hint">{w.hint}</p>
          <Switch id="pass-readings" label={w.readings} on={readings.value} onFlip={(on) => (readings.value = on)} />
          <div class="acts acts-wide">
            <button type="button" class="act act-main" disabled={codes.length === 0} onClick={() => (showing.value = true)}><Icon name="code" />{w.code}</button>
            <button type="button" class="act" onClick={copy}><Icon name="copy" />{w.copy}</button>
            {canSend && <button type="button" class="act" onClick={() => void share({ title: job.value.name, url: link })}><Icon name="send" />{w.sendLink}</button>}
          </div>
          <p class="hint jobs-hint" role="status">
            {text !== null && `${w.size(link.length, codes.length)} ${codes.length > 0 ? "" : `${w.tooLarge} ${readings.value ? w.tooLargeTry : ""}`}`}
          </p>
          {byHand.value && (
            <div class="field">
              <label for="by-hand">{w.notCopied}</label>
              <div class="entry"><textarea id="by-hand" rows={4} readOnly value={link} onFocus={(event) => event.currentTarget.select()} /></div>
            </div>
          )}
        </section>
      ) : <p>{w.noAddress}</p>}
      <section aria-labelledby="file">
        <h2 id="file">{w.file}</h2>
        <div class="acts acts-wide">
          <button type="button" class="act" onClick={() => hand(fileName(job.value.name, "json"), json, textOf(job.value))}><Icon name="save" />{w.save}</button>
          {file && (
            <button type="button" class="act" onClick={() => void share({ files: [file] }).then((sent) => {
              if (!sent) tell(w.notSent, false);
            })}><Icon name="send" />{w.sendFile}</button>
          )}
        </div>
      </section>
      {showing.value && <Codes codes={codes} onClose={() => (showing.value = false)} />}
    </div>
  );
}

/** Full screen, dark on white whatever the page looks like: a camera needs it so. */
function Codes({ codes, onClose }: { codes: readonly string[]; onClose: () => void }) {
  const at = useSignal(0);
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  const text = codes[at.value];
  const step = (by: number) => (at.value = (at.value + by + codes.length) % codes.length);
  return (
    <dialog ref={dialog} class="codes" aria-labelledby="code-title" onClose={onClose}>
      <p id="code-title" role="status">{w.codeOf(at.value + 1, codes.length)}</p>
      {text !== undefined && <Code text={text} name={w.codeName(at.value + 1, codes.length)} />}
      <div class="acts">
        {codes.length > 1 && <button type="button" class="act" onClick={() => step(-1)}><Icon name="back" />{w.previous}</button>}
        {codes.length > 1 && <button type="button" class="act act-main" onClick={() => step(1)}>{w.next}<Icon name="go" /></button>}
        <button type="button" class="act" onClick={() => dialog.current?.close()}>{words.act.close}</button>
      </div>
    </dialog>
  );
}

const quiet = 4;

function Code({ text, name }: { text: string; name: string }) {
  const { data, size } = encode(text, { ecc: "L", border: 0 });
  const path = data.flatMap((row, y) => row.map((dark, x) => (dark ? `M${x} ${y}h1v1h-1z` : ""))).join("");
  const side = size + 2 * quiet;
  return (
    <svg class="code" viewBox={`${-quiet} ${-quiet} ${side} ${side}`} role="img" aria-label={name} shape-rendering="crispEdges">
      <path d={`M${-quiet} ${-quiet}h${side}v${side}h${-side}z`} fill="#fff" />
      <path d={path} fill="#000" />
    </svg>
  );
}
