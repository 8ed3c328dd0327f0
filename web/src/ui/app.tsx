import { useErrorBoundary, useLayoutEffect, useRef } from "preact/hooks";
import { placeKey } from "../job/tree";
import { view, type View } from "../route";
import { site } from "../site";
import { words } from "words:page";
import { Bar, Notices, Spoken } from "./bar";
import { later, views } from "./later";
import { PlaceView } from "./place";
import { WholeView } from "./whole";

const EarthingView = later((of) => of.EarthingView);
const PicturesView = later((of) => of.PicturesView);
const MeterView = later((of) => of.MeterView);
const TakeView = later((of) => of.TakeView);
const LessonView = later((of) => of.LessonView);
const PartView = later((of) => of.PartView);
const singles = {
  readings: later((of) => of.GlanceView),
  instruments: later((of) => of.InstrumentsView),
  record: later((of) => of.RecordView),
  drawing: later((of) => of.DrawingView),
  job: later((of) => of.JobView),
  jobs: later((of) => of.JobsView),
  pass: later((of) => of.PassView),
  rules: later((of) => of.RulesView),
  "self-check": later((of) => of.SelfCheckView),
};

/** Whether its code comes later. */
function comesLater(at: View): boolean {
  return at.view === "place" ? at.aspect !== undefined : at.view !== "whole";
}

function Shown() {
  const at = view.value;
  const key = "place" in at ? `${at.view} ${at.aspect ?? ""}${placeKey(at.place)}` : "text" in at ? `${at.view} ${at.text}` : at.view;
  const there = !comesLater(at) || views.value !== null;
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
  const Single = singles[at.view];
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
