package ferrule.drawing;

/** The finish of the body metal. */
public enum Finish {
  /** Lacquered brass. */
  BRASS,
  /** Silver plate. */
  SILVER,
  /** Brass without a finish. */
  RAW
}
