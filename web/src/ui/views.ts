// The views that are not needed for the verdict, as one part: apart they would be pressed apart, an eighth larger.

export { BarReadings, SpokenReadings } from "./bar-meter";
export { DrawingView } from "./drawing";
export { EarthingView } from "./earthing";
export { GlanceView } from "./glance";
export { InstrumentsView } from "./instruments";
export { JobView } from "./job";
export { JobsView } from "./jobs";
export { LessonView } from "./lesson";
export { MeterView } from "./meter";
export { PassView } from "./pass";
export { PicturesView } from "./pictures";
export { RecordView } from "./record";
export { RulesView } from "./rules";
export { SelfCheckView } from "./self-check";
export { PartView, TakeView } from "./take";
