package ferrule.glossary;

/** What sort of thing a concept stands for. */
public enum Level {
  /** A class of parts, such as "knuckle": it lends its terms to the parts below it and is never itself an answer. */
  KIND,
  /** Parts that come out or are handled together, such as "third valve slide assembly". */
  ASSEMBLY,
  /** A part that a repairer orders or names. */
  PART,
  /** A named stretch or surface of a part, such as the throat of the bell or a port of a piston. */
  REGION
}
