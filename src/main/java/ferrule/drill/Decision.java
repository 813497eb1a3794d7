package ferrule.drill;

import java.util.Locale;

/** What an instructor can decide about a typed answer. */
public enum Decision {
  /** It is good trade usage for the part. */
  TERM,
  /** It is what people say for the part and a shop ticket should not. */
  COLLOQUIAL,
  /** It is a common wrong spelling of a name of the part. */
  MISSPELLING,
  /** The answers given so far count as right; the glossary does not change. */
  ONCE,
  /** It is not a name of the part, for a reason that the apprentice is told. */
  NOT_ACCEPTED;

  /** The word under which it is stored, such as "not-accepted". */
  public String word() {
    return name().toLowerCase(Locale.ROOT).replace('_', '-');
  }

  /** The decision with this word; throws {@link IllegalArgumentException} for any other text. */
  public static Decision parse(String word) {
    return valueOf(word.toUpperCase(Locale.ROOT).replace('-', '_'));
  }

  /** Whether it makes the phrase a name of the part from now on. */
  public boolean teaches() {
    return this == TERM || this == COLLOQUIAL || this == MISSPELLING;
  }
}
