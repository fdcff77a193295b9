/** What the page asks of the engraver: systems of a score, each a picture of its own. */
export interface EngravingOrder {
  readonly id: number;
  readonly xml: string;
  /** Width of a system, CSS pixels, and how large its staves are, percent. */
  readonly widthPx: number;
  readonly scale: number;
}

export type EngraverReply =
  | { readonly id: number; readonly kind: "systems"; readonly count: number }
  | { readonly id: number; readonly kind: "system"; readonly index: number; readonly svg: string }
  | { readonly id: number; readonly kind: "done" }
  | { readonly id: number; readonly kind: "failed"; readonly why: string }
  | { readonly kind: "ready" }
  /** The font that signs in words are set in, such as the flat of a chord's name. */
  | { readonly kind: "font"; readonly family: string; readonly bytes: ArrayBuffer };
