import type { Report } from "./report.js";

/** The report as JSON, as `REPORT_SCHEMA` describes it. */
export const jsonReport = (report: Report): string => `${JSON.stringify(report, undefined, 2)}\n`;
