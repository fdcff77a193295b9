export { type ArrangedBytes, arrangeBytes } from "./arrange-bytes.js";
export { type Arranged, arrangeScore } from "./arrange-score.js";
export { type CheckedScore, type CheckOptions, checkScore } from "./checking/check-score.js";
export {
  type Finding,
  Findings,
  ofFile,
  type Place,
  ScoreError,
  type Severity,
  textOfFinding,
} from "./diagnostics.js";
export type { GuitarNote, GuitarScore, StaffReading } from "./guitar/guitar-score.js";
export { shapeName } from "./harmony/shapes/shape-name.js";
export { surveyKeys } from "./keys/survey-keys.js";
export {
  type EngravedNote,
  type EngravingCopy,
  engravingCopy,
  type ShownParts,
} from "./musicxml/engraving/engraving-copy.js";
export { readGuitarScore } from "./musicxml/guitar-reading/read-guitar-part.js";
export { type MendedScore, type MendOptions, mendScore } from "./musicxml/mending/mend-score.js";
export { completeOptions, OptionsError } from "./options/option-checking.js";
export {
  type ArrangeOptions,
  OPTIONS,
  OPTIONS_FOR,
  type OptionFor,
  type OptionName,
  type Question,
} from "./options/options.js";
export { OPTIONS_SCHEMA } from "./options/options-schema.js";
export { readScore } from "./read-score.js";
export { type CheckReport, checkReport, checkSummaryLines } from "./reporting/check-report.js";
export { CHECK_SCHEMA } from "./reporting/check-schema.js";
export type {
  AlternativeReport,
  EventReport,
  NoteReport,
  VoiceLeftOutReport,
} from "./reporting/event-report.js";
export { explanationLines } from "./reporting/explanation.js";
export {
  type HandTrace,
  handTrace,
  type MoveEffort,
  type NeckMap,
  type TracedMoment,
  type TracedMove,
} from "./reporting/hand-trace.js";
export { jsonReport } from "./reporting/json-report.js";
export type { KeyEntry, KeySurvey, PlaceReport } from "./reporting/key-survey-report.js";
export { KEYS_SCHEMA } from "./reporting/keys-schema.js";
export { keysLines } from "./reporting/keys-text.js";
export { LEFT_OUT_TEXTS, voiceLeftOutText } from "./reporting/left-out-texts.js";
export {
  chordInWords,
  degreeInWords,
  momentAndPlaceInWords,
  momentInWords,
  wayInWords,
} from "./reporting/moment-words.js";
export { type Report, reportOnFile } from "./reporting/report.js";
export { FINDING_SCHEMA, REPORT_SCHEMA } from "./reporting/report-schema.js";
export { momentText, summaryLines } from "./reporting/summary.js";
export { textReport } from "./reporting/text-report.js";
export { WHY_SINGLE_TEXTS } from "./reporting/why-single-texts.js";
export { fretsAround, neckPicture } from "./sheets/neck-picture.js";
export { sheetHtml, sheetSvg } from "./sheets/sheet-file.js";
export { type Sheet, type SheetKind, sheetOf } from "./sheets/sheet-of-score.js";
export { type Performance, type PlayedNote, type PlayedTempo, performanceOf } from "./sound/played-notes.js";
export { frequencyOf, type PluckedNote, pluckedString } from "./sound/plucked-string.js";
export { checkedWishes, readWishes, WishesError } from "./wishes/read-wishes.js";
export type { WishesFile, WrittenWish } from "./wishes/wishes-file.js";
export { WISHES_SCHEMA } from "./wishes/wishes-schema.js";
export { answerOrder } from "./work/answer-order.js";
export type {
  AnswerTo,
  ArrangeDone,
  ArrangeOrder,
  CheckDone,
  CheckOrder,
  DoneFor,
  KeysDone,
  KeysOrder,
  Order,
  Refused,
  ScoreDone,
} from "./work/order.js";
export { compressedScore, readScoreText, type ScoreText } from "./xml/container.js";
export { FILE_LIMITS } from "./xml/file-limits.js";
export { parseXml } from "./xml/parse-xml.js";
export { printXml } from "./xml/print-xml.js";
export type { XmlDocument } from "./xml/xml-tree.js";
