import { XmlDocument } from "libxml2-wasm";

/** Canonical XML 1.0 with comments: equal for two texts that mean the same. Nothing is fetched. */
export function canonicalXml(xml: string): string {
  // The DOCTYPE is no part of canonical XML, and no loader is asked for it.
  const document = XmlDocument.fromString(xml);
  try {
    return document.canonicalizeToString({ withComments: true });
  } finally {
    document.dispose();
  }
}
