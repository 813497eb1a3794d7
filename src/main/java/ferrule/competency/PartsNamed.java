package ferrule.competency;

/**
 * How many parts of an assembly were named right when they were last asked for.
 *
 * @param right how many
 * @param of how many there are to ask for, at least 1
 */
public record PartsNamed(int right, int of) {

  /** Checks the range. */
  public PartsNamed {
    if (right < 0 || of < 1 || right > of) {
      throw new IllegalArgumentException("given " + right + " of " + of + " parts named right");
    }
  }
}
