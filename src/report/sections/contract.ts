import type { PageContext } from "../pageContext.ts";

/** What a section's partial shows: plain values, lists and records of them; nothing is left undefined. */
export type View = string | number | boolean | null | readonly View[] | { readonly [key: string]: View };

/** A member of the shelf: one part of the report. Its partial is `templates/partials/NAME.hbs`. */
export interface Section {
  readonly name: string;
  /** Heading, or null for a part that brings its own. */
  heading(page: PageContext): string | null;
  /** What the partial shows, or null when the report has nothing to say here. Never throws for what a record holds. */
  view(page: PageContext): { readonly [key: string]: View } | null;
}
