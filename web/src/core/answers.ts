// The types of the core's answers, generated from the schemas, and of what a screen reads of a job as it was said.
import type { Job } from "../../../wasm/types/job";
import type { Survey as SurveyAnswer } from "../../../wasm/types/surface";

export type * from "../../../wasm/types/surface";
export type Severity = "note" | "look" | "stop";
export type StageName = "measure" | "panels" | "roll" | "cost" | "papers";
export type SurveyPoint = SurveyAnswer["points"][number];
/// A job as it was said; one with faults may lack what the type names, so that a screen asks before it reads.
export type SaidJob = Partial<Job>;
export type SaidPanel = NonNullable<Job["panels"]>[number];
export type SaidSpace = NonNullable<Job["spaces"]>[number];
