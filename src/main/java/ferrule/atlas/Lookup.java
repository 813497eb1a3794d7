package ferrule.atlas;

import ferrule.glossary.Concept;
import ferrule.naming.Correction;
import ferrule.naming.Reading;
import ferrule.naming.TermReader;
import java.util.List;

/**
 * What a search by a typed name found.
 *
 * @param typed what was typed
 * @param parts the parts that it fits, in the order of the glossary
 * @param sentence what to tell the one who searches, where there is not exactly one part
 */
public record Lookup(String typed, List<Concept> parts, String sentence) {

  /** Copies the list. */
  public Lookup {
    parts = List.copyOf(parts);
  }

  /** Reads a typed name with a reader of the instrument's names. */
  public static Lookup of(TermReader reader, String typed) {
    Reading reading = reader.read(typed);
    return new Lookup(typed, reading.parts(), sentence(reading));
  }

  private static String sentence(Reading reading) {
    String read = spelling(reading.corrections());
    if (!reading.parts().isEmpty()) {
      return read + "That fits " + reading.parts().size() + " parts. Which one is meant?";
    }
    String words = String.join("” and “", reading.obstacleWords());
    return read
        + switch (reading.obstacle()) {
          case NOTHING_SAID -> "Type the name of a part, or a piece of it.";
          case TOO_LONG -> "That is longer than any name. Type the name alone.";
          case DENIED -> "That says what the part is not. Type what it is.";
          case DESCRIBED -> "That describes a part. Type a name for it.";
          case UNKNOWN_WORD -> "“" + words + "” is in no name that this glossary knows.";
          case EITHER_WORD -> "Which word was meant: “" + String.join("” or “", reading.obstacleWords()) + "”?";
          case CONTRADICTION -> "“" + words + "” cannot both be said of one part.";
          case NO_SUCH_PART, NONE -> "The words are known, but no part has such a name.";
        };
  }

  private static String spelling(List<Correction> corrections) {
    return corrections.isEmpty()
        ? ""
        : "Read as " + String.join(", ", corrections.stream().map(c -> "“" + c.read() + "”").toList()) + ". ";
  }
}
