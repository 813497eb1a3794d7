package ferrule.drill;

import java.util.Locale;

/** What an item asks for. */
public enum ItemKind {
  /** A part is lit on the drawing; the response is its name, typed. */
  NAME,
  /** A part is named; the response is a place on the drawing. */
  FIND;

  /** The word under which it is stored, such as "name". */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The kind with this word; throws {@link IllegalArgumentException} for any other text. */
  public static ItemKind parse(String word) {
    return valueOf(word.toUpperCase(Locale.ROOT));
  }
}
