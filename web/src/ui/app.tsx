import { useErrorBoundary, useLayoutEffect, useRef } from "preact/hooks";
import { placeKey } from "../job/tree";
import { view, type View } from "../route";
import { site } from "../site";
import { words } from "words:page";
import { Bar, Notices, Spoken } from "./bar";
import { later } from "./later";
import { PlaceView } from "./place";
import { WholeView } from "./whole";

const EarthingView = later(() => import("./earthing").then((part) => part.EarthingView));
const PicturesView = later(() => import("./pictures").then((part) => part.PicturesView));
const MeterView = later(() => import("./meter").then((part) => part.MeterView));
const TakeView = later(() => import("./take").then((part) => part.TakeView));
const LessonView = later(() => import("./lesson").then((part) => part.LessonView));
const PartView = later(() => import("./take").then((part) => part.PartView));
const views = {
  readings: later(() => import("./glance").then((part) => part.GlanceView)),
  instruments: later(() => import("./instruments").then((part) => part.InstrumentsView)),
  record: later(() => import("./record").then((part) => part.RecordView)),
  drawing: later(() => import("./drawing").then((part) => part.DrawingView)),
  job: later(() => import("./job").then((part) => part.JobView)),
  jobs: later(() => import("./jobs").then((part) => part.JobsView)),
  pass: later(() => import("./pass").then((part) => part.PassView)),
  rules: later(() => import("./rules").then((part) => part.RulesView)),
  "self-check": later(() => import("./self-check").then((part) => part.SelfCheckView)),
};

/** What shows this place or part, where its code comes later. */
function partOf(at: View) {
  if (at.view === "place") return at.aspect === "earthing" ? EarthingView : at.aspect === "pictures" ? PicturesView : null;
  if (at.view === "take") return TakeView;
  if (at.view === "part") return PartView;
  if (at.view === "lesson") return LessonView;
  return at.view === "meter" ? MeterView : at.view === "whole" ? null : views[at.view];
}

function Shown() {
  const at = view.value;
  const key = "place" in at ? `${at.view} ${at.aspect ?? ""}${placeKey(at.place)}` : "text" in at ? `${at.view} ${at.text}` : at.view;
  const there = partOf(at)?.found.value !== null;
  const first = useRef(true);
  const [broken, mend] = useErrorBoundary((reason: unknown) => console.error(reason)) as [unknown, () => void];
  useLayoutEffect(() => {
    mend();
    if (!there) return;
    const heading = document.getElementById("here");
    document.title = `${heading?.textContent ?? words.app} · ${words.app}`;
    // Arriving: the heading is read out and the way here lies just above it.
    if (first.current) first.current = false;
    else {
      heading?.focus({ preventScroll: true });
      if ("place" in at) heading?.closest(".here")?.scrollIntoView({ block: "start" });
      else scrollTo(0, 0);
    }
  }, [key, there]);
  if (broken !== undefined) return <p class="wrong">{words.error.page}</p>;
  if (at.view === "place" && at.aspect === "earthing" && at.place.kind === "board" && site.value !== false) return <EarthingView key={key} board={at.place.id} />;
  if (at.view === "place" && at.aspect === "pictures" && at.place.kind === "circuit" && site.value !== false) return <PicturesView key={key} circuit={at.place.id} />;
  if (at.view === "place") return <PlaceView key={key} place={at.place} />;
  if (at.view === "meter") return <MeterView key={key} place={at.place} />;
  if (at.view === "take") return <TakeView key={at.text} text={at.text} />;
  if (at.view === "part") return <PartView key={at.text} text={at.text} />;
  if (at.view === "lesson" && site.value !== false) return <LessonView text={at.text} />;
  if (at.view === "whole" || at.view === "lesson") return <WholeView />;
  const Single = views[at.view];
  return <Single />;
}

export function App() {
  return (
    <>
      <a class="skip" href="#here" onClick={(event) => {
        event.preventDefault();
        document.getElementById("here")?.focus();
      }}>{words.skip}</a>
      <main id="main"><Shown /></main>
      <Notices />
      <Bar />
      <Spoken />
    </>
  );
}
