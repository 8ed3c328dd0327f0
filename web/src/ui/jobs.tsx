// All jobs on this device: tags hung on a rail. Each can be opened, duplicated, archived, deleted and saved.

import { useSignal, useSignalEffect, type ReadonlySignal } from "@preact/signals";
import { fresh } from "../job/fresh";
import { readJob } from "../job/read";
import type { Job } from "../job/types";
import { all, fileName, hand, takeFile, textOf, together } from "../keep/file";
import { handed } from "../keep/handed";
import { addJobs, dropJob, listed, markJob, openId, openJob, save, startJob } from "../keep/open";
import * as store from "../keep/store";
import { go } from "../route";
import { exampleJob, tell } from "../state";
import { words } from "words:page";
import { Choosing } from "./fields";
import { Icon } from "./marks";

const w = words.jobs;
const json = "application/json";
const kinds = ["current", "archived", "deleted"] as const;
type KindOf = (typeof kinds)[number];

function kindOf({ archived, removed }: store.Head): KindOf {
  return removed !== null ? "deleted" : archived ? "archived" : "current";
}

/** Opens and leads to it. */
async function lead(opened: Promise<boolean>, text?: string): Promise<void> {
  if (!(await opened)) return;
  go("#/");
  if (text !== undefined) tell(text, false);
}

/** Whatever the device refuses is said, and the list stays as it was. */
function ask(what: Promise<unknown>): void {
  what.catch((reason: unknown) => {
    console.warn(reason);
    tell(words.file.notKept, false);
  });
}

/** An effect runs again when one of these changes. */
function follow(...all: ReadonlySignal<unknown>[]): void {
  for (const one of all) one.valueOf();
}

async function bodyOf(id: string): Promise<{ name: string; body: unknown } | null> {
  await save();
  const entry = await store.read(id);
  return entry && { name: entry.head.name, body: entry.body };
}

export function JobsView() {
  const heads = useSignal<store.Head[] | null>(null);
  const wanted = useSignal("");
  const which = useSignal<KindOf>("current");
  const refused = useSignal<string[]>([]);
  const over = useSignal(false);
  useSignalEffect(() => {
    follow(listed, openId);
    store.heads().then((found) => (heads.value = found), (reason: unknown) => {
      console.warn(reason);
      heads.value = [];
    });
  });

  const take = async (files: readonly File[]) => {
    const { jobs, refused: why } = all(await Promise.all(files.map(takeFile)));
    refused.value = why;
    const [first, ...more] = jobs;
    if (first === undefined) return;
    if (more.length === 0 && why.length === 0) return lead(startJob(first), words.file.opened(first.name));
    await addJobs(jobs);
    tell(w.took(jobs.length), false);
  };
  useSignalEffect(() => {
    const files = handed.value;
    if (files.length === 0) return;
    handed.value = [];
    ask(take(files));
  });
  const standing = (heads.value ?? []).filter(({ removed }) => removed === null);
  const saveAll = async () => {
    await save();
    const entries = await Promise.all(standing.map(({ id }) => store.read(id)));
    const bodies = entries.flatMap((entry) => (entry ? [entry.body] : []));
    hand(fileName(w.allName, "json"), json, textOf(together(bodies)));
    tell(w.savedAll(bodies.length), false);
  };

  const shown = (heads.value ?? []).filter((head) => kindOf(head) === which.value);
  const asked = wanted.value.toLowerCase().split(/\s+/).filter(Boolean);
  const found = shown.filter(({ text }) => asked.every((word) => text.includes(word)));
  const offered = kinds.filter((kind) => kind === "current" || kind === which.value || (heads.value ?? []).some((head) => kindOf(head) === kind));
  return (
    <div class={`sheet jobs${over.value ? " is-over" : ""}`}
      onDragOver={(event) => {
        if (event.dataTransfer?.types.includes("Files")) over.value = true;
      }}
      onDragLeave={(event) => {
        if (!event.currentTarget.contains(event.relatedTarget as Node | null)) over.value = false;
      }}
      onDrop={() => (over.value = false)}>
      <h1 id="here" tabIndex={-1}>{w.title}</h1>
      {over.value && <p class="drop" aria-hidden="true">{w.dropHere}</p>}
      <div class="jobs-find">
        <div class="field">
          <label for="find">{w.find}</label>
          <div class="entry"><input id="find" type="search" autocomplete="off" enterkeyhint="search" value={wanted.value} onInput={(event) => (wanted.value = event.currentTarget.value)} /></div>
        </div>
        {offered.length > 1 && (
          <Choosing id="which" label={w.which} value={which.value} error={null} options={offered.map((kind) => ({ value: kind, text: w.kinds[kind] }))}
            onPick={(picked) => (which.value = picked as KindOf)} />
        )}
      </div>
      {heads.value !== null && found.length === 0 && (
        <p class="hint" role="status">{shown.length > 0 ? w.nothingFound : w.noneOf[which.value]}</p>
      )}
      {which.value === "deleted" && shown.length > 0 && <p class="hint">{w.deletedHint(store.daysToBringBack)}</p>}
      {found.length > 0 && <ul class="rail">{found.map((head) => <Tag key={head.id} head={head} />)}</ul>}
      <div>
        <div class="acts acts-wide">
          <button type="button" class="act act-main" onClick={() => ask(lead(startJob(fresh.job(words.job.freshName, words.act.newBoard))))}><Icon name="add" />{w.fresh}</button>
          <button type="button" class="act" onClick={() => ask(lead(startJob(exampleJob())))}>{w.example}</button>
          <label class="act act-file">
            {w.take}
            <input type="file" multiple accept=".json,.txt,application/json,text/plain" aria-describedby="take-hint" onChange={(event) => {
              const input = event.currentTarget;
              ask(take([...(input.files ?? [])]).finally(() => (input.value = "")));
            }} />
          </label>
          {standing.length > 0 && <button type="button" class="act" onClick={() => ask(saveAll())}><Icon name="save" />{w.saveAll}</button>}
        </div>
        <p class="hint jobs-hint" id="take-hint">{w.takeHint}</p>
        <div role="alert">
          {refused.value.length > 0 && <ul class="wrong refused-file">{refused.value.map((one, at) => <li key={at}>{one}</li>)}</ul>}
        </div>
      </div>
      <Room />
    </div>
  );
}

const since = new Intl.RelativeTimeFormat(words.tag, { numeric: "auto" });
const dated = new Intl.DateTimeFormat(words.tag, { dateStyle: "medium" });

function when(at: number): string {
  const minutes = Math.round((Date.now() - at) / 60_000);
  if (minutes < 60) return since.format(-minutes, "minute");
  return minutes < 24 * 60 ? since.format(-Math.round(minutes / 60), "hour") : dated.format(at);
}

function Tag({ head }: { head: store.Head }) {
  const { id, name, circuits, changed, archived, removed } = head;
  const more = useSignal(false);
  const title = name === "" ? words.place.unnamed : name;
  const isOpen = openId.value === id;
  const copy = async () => {
    const { job } = readJob((await bodyOf(id))?.body);
    if (!job) {
      tell(w.unreadable(title), false);
      return;
    }
    await addJobs([{ ...job, name: w.copyName(job.name) } satisfies Job]);
    tell(w.copied(title), false);
  };
  const keep = async () => {
    const entry = await bodyOf(id);
    if (entry) hand(fileName(entry.name, "json"), json, textOf(entry.body));
  };
  const archive = async () => {
    await markJob(id, { archived: !archived });
    if (!archived) tell(w.archivedNow(title), () => ask(markJob(id, { archived: false })));
  };
  const back = async () => {
    await markJob(id, { removed: null });
    tell(w.broughtBack(title), false);
  };
  const drop = async () => {
    await dropJob(id);
    tell(w.dropped(title), false);
  };
  const remove = async () => {
    await save();
    await markJob(id, { removed: Date.now() });
    tell(w.removed(title), () => ask(markJob(id, { removed: null })));
  };
  const about = <>
    <span class="job-name">{title}</span>{" "}
    <span class="job-about">{isOpen && <b>{w.open} · </b>}{w.circuits(circuits)} · {removed !== null ? w.deleted(when(removed)) : w.changed(when(changed))}</span>
  </>;
  if (removed !== null) {
    return (
      <li class="job-tag">
        <p class="job-open">{about}</p>
        <div class="acts job-acts">
          <button type="button" class="act" aria-label={w.backFull(title)} onClick={() => ask(back())}>{w.unarchive}</button>
          <button type="button" class="act" onClick={() => ask(keep())}><Icon name="save" />{w.save}</button>
          {!isOpen && <button type="button" class="act act-remove" aria-label={w.dropFull(title)} onClick={() => ask(drop())}><Icon name="remove" />{w.drop}</button>}
        </div>
      </li>
    );
  }
  return (
    <li class={`job-tag${isOpen ? " is-open" : ""}`}>
      <a class="job-open" href="#/" onClick={(event) => {
        event.preventDefault();
        ask(lead(openJob(id)));
      }}>
        {!isOpen && <span class="out">{w.openThis} </span>}
        {about}
      </a>
      <button type="button" class="job-more" aria-expanded={more.value} aria-label={w.more(title)} onClick={() => (more.value = !more.value)}>
        <Icon name={more.value ? "up" : "down"} />
      </button>
      {more.value && (
        <div class="acts job-acts">
          <button type="button" class="act" onClick={() => ask(copy())}><Icon name="copy" />{w.copy}</button>
          <button type="button" class="act" onClick={() => ask(keep())}><Icon name="save" />{w.save}</button>
          <button type="button" class="act" onClick={() => ask(archive())}>{archived ? w.unarchive : w.archive}</button>
          <button type="button" class="act act-remove" onClick={() => ask(remove())}><Icon name="remove" />{w.remove}</button>
        </div>
      )}
    </li>
  );
}

function size(bytes: number): string {
  const [amount, unit] = bytes < 1e6 ? [bytes / 1e3, "kB"] : bytes < 1e9 ? [bytes / 1e6, "MB"] : [bytes / 1e9, "GB"];
  return `${amount.toPrecision(amount < 100 ? 2 : 3)}\u00a0${unit}`;
}

function Room() {
  const said = useSignal<{ used: number; of: number } | null>(null);
  const lasting = useSignal<boolean | null>(null);
  const refused = useSignal(false);
  useSignalEffect(() => {
    follow(listed);
    const { storage } = navigator as { storage?: StorageManager };
    void storage?.estimate().then(({ usage = 0, quota = 0 }) => (said.value = { used: usage, of: quota }));
    void storage?.persisted().then((is) => (lasting.value = is));
  });
  const asking = async () => {
    lasting.value = await navigator.storage.persist();
    refused.value = !lasting.value;
  };
  return (
    <section aria-labelledby="room">
      <h2 id="room">{w.room.title}</h2>
      <p class="hint">{w.hint}</p>
      <p class="hint">{said.value ? w.room.used(size(said.value.used), size(said.value.of)) : w.room.unknown}{" "}
        {lasting.value !== null && (lasting.value ? w.room.lasting : w.room.passing)}</p>
      {lasting.value === false && <p class="acts"><button type="button" class="act" onClick={() => ask(asking())}>{w.room.ask}</button></p>}
      <p class="hint" role="status">{refused.value && w.room.refused}</p>
      {import.meta.env.MODE !== "single" && (
        <>
          <p class="acts"><a class="act" href="./faultpath.html" download="faultpath.html"><Icon name="save" />{w.room.one}</a></p>
          <p class="hint jobs-hint">{w.room.oneHint}</p>
        </>
      )}
    </section>
  );
}
