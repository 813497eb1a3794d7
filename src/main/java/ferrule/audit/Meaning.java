package ferrule.audit;

import java.util.List;

/**
 * What a route means to the trail.
 *
 * @param kind what sort of deed it is
 * @param source where it says about whom: {@code path}, {@code form} or {@code query}; empty if nowhere
 * @param thing what stands there, such as {@code record}, whose person is then looked up
 * @param name of the parameter or field
 * @param words what it was, such as "opened the record"
 */
record Meaning(Kind kind, String source, String thing, String name, String words) {

  /** What sort of deed a route is. */
  enum Kind {
    /** Nothing of anybody else is seen, and nothing changed. */
    PLAIN,
    /** Something personal is opened. */
    SAW,
    /** Something is changed; noted before it is done. */
    CHANGED,
    /** Something is changed that itself is kept with who and when, and so often that it is noted after it is done. */
    OFTEN,
    /** Somebody comes in, fails to, or goes. */
    SIGNED_IN;

    /** As it stands in a row. */
    String word() {
      return switch (this) {
        case PLAIN, SAW -> "saw";
        case CHANGED, OFTEN -> "changed";
        case SIGNED_IN -> "signed-in";
      };
    }
  }

  /** A line of the list, without its route. */
  static Meaning parse(String kind, String about, String words) {
    Kind parsed = Kind.valueOf(kind.toUpperCase(java.util.Locale.ROOT).replace('-', '_'));
    if (about.equals("-")) {
      return new Meaning(parsed, "", "", "", words);
    }
    List<String> parts = List.of(about.split(":"));
    boolean field = List.of("form", "query").contains(parts.get(0));
    return new Meaning(
        parsed, field ? parts.get(0) : parts.get(0).equals("named") ? "form" : "path",
        field ? "id" : parts.get(0), parts.get(1), words);
  }
}
