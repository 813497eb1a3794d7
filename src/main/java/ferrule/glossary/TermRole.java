package ferrule.glossary;

/**
 * The role of a label for a concept. {@link #COLLOQUIAL} and {@link #MISSPELLING} are both hidden labels in the sense
 * of the W3C SKOS Reference (2009): searchable, never shown as the name of the part.
 */
public enum TermRole {
  /** The one term that the trade and this glossary prefer. */
  PREFERRED,
  /** Another term that is good trade usage. */
  ALTERNATIVE,
  /** What people say that a shop ticket should not, such as "spit valve". */
  COLLOQUIAL,
  /** A spelling that is common and wrong. */
  MISSPELLING
}
