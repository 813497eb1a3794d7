package ferrule.bench;

/** What a reading says about its limits. */
public enum Conformity {
  /** Within the limits by more than the doubt about the reading. */
  CONFORMING("within the limits"),
  /** Outside the limits by more than the doubt about the reading. */
  NOT_CONFORMING("outside the limits"),
  /** So close to a limit that this gauge cannot tell. */
  UNDECIDED("too close to a limit to tell");

  private final String words;

  Conformity(String words) {
    this.words = words;
  }

  /** The verdict in words. */
  public String words() {
    return words;
  }
}
