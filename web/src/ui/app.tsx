import { useErrorBoundary, useLayoutEffect, useRef } from "preact/hooks";
import { placeKey } from "../job/tree";
import { view } from "../route";
import { site } from "../site";
import { words } from "../words";
import { Bar, Notices, Spoken } from "./bar";
import { EarthingView } from "./earthing";
import { GlanceView } from "./glance";
import { InstrumentsView } from "./instruments";
import { JobView } from "./job";
import { MeterView } from "./meter";
import { PlaceView } from "./place";
import { RecordView } from "./record";
import { RulesView } from "./rules";
import { WholeView } from "./whole";

function Shown() {
  const at = view.value;
  const key = "place" in at ? `${at.view} ${at.aspect ?? ""}${placeKey(at.place)}` : at.view;
  const first = useRef(true);
  const [broken, mend] = useErrorBoundary((reason: unknown) => console.error(reason)) as [unknown, () => void];
  useLayoutEffect(() => {
    mend();
    const heading = document.getElementById("here");
    document.title = `${heading?.textContent ?? words.app} · ${words.app}`;
    // Arriving: the heading is read out and the way here lies just above it.
    if (first.current) first.current = false;
    else {
      heading?.focus({ preventScroll: true });
      if ("place" in at) heading?.closest(".here")?.scrollIntoView({ block: "start" });
      else scrollTo(0, 0);
    }
  }, [key]);
  if (broken !== undefined) return <p class="wrong">{words.error.page}</p>;
  if (at.view === "place" && at.aspect === "earthing" && at.place.kind === "board" && site.value !== false) return <EarthingView key={key} board={at.place.id} />;
  if (at.view === "place") return <PlaceView key={key} place={at.place} />;
  if (at.view === "meter") return <MeterView key={key} place={at.place} />;
  if (at.view === "readings") return <GlanceView />;
  if (at.view === "instruments") return <InstrumentsView />;
  if (at.view === "record") return <RecordView />;
  if (at.view === "job") return <JobView />;
  if (at.view === "rules") return <RulesView />;
  return <WholeView />;
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
