package ferrule.bench;

/** How the work as a whole stands, from the lowest. */
public enum Standing {
  /** It does not meet the standard yet. */
  NOT_YET("not yet"),
  /** It meets the standard. */
  SOUND("sound"),
  /** It meets the standard, and no criterion could be better. */
  FINE("fine");

  private final String word;

  Standing(String word) {
    this.word = word;
  }

  /** The word for it, as it is stored and shown. */
  public String word() {
    return word;
  }

  /** Whether the work meets the standard. */
  public boolean meets() {
    return this != NOT_YET;
  }

  /** Whether this counts where the other is asked for. */
  public boolean isAtLeast(Standing asked) {
    return compareTo(asked) >= 0;
  }

  /** The standing with this word; throws {@link IllegalArgumentException} for any other text. */
  public static Standing parse(String word) {
    for (Standing standing : values()) {
      if (standing.word.equals(word)) {
        return standing;
      }
    }
    throw new IllegalArgumentException("work stands as not yet, sound or fine; given: " + word);
  }
}
