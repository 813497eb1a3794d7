package ferrule.drawing;

import java.util.Locale;

/** The finish of the body metal. */
public enum Finish {
  /** Lacquered brass. */
  BRASS,
  /** Silver plate. */
  SILVER,
  /** Brass without a finish. */
  RAW;

  /** The class of a picture in this finish. */
  String key() {
    return name().toLowerCase(Locale.ROOT);
  }
}
