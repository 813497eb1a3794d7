package ferrule.drawing;

/** What stands beside the parts of a picture. */
public enum Labels {
  /** Nothing. */
  NONE,
  /** The preferred terms. */
  TERMS,
  /** Numbers, to go with a list. */
  NUMBERS
}
