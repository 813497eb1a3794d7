package ferrule.atlas;

import ferrule.glossary.Concept;
import ferrule.naming.Correction;
import ferrule.naming.Reading;
import ferrule.naming.Reading.Obstacle;
import ferrule.naming.TermReader;
import java.util.Arrays;
import java.util.List;
import java.util.stream.Collectors;

/**
 * What a search by a typed name found.
 *
 * @param typed what was typed
 * @param parts the parts that it fits, in the order of the glossary
 * @param sentence what to tell the one who searches; empty if the name picks out one part
 */
public record Lookup(String typed, List<Concept> parts, String sentence) {

  /** Copies the list. */
  public Lookup {
    parts = List.copyOf(parts);
  }

  /** Reads a typed name with a reader of the instrument's names. */
  public static Lookup of(TermReader reader, String typed) {
    Reading reading = reader.read(typed);
    if (reading.parts().isEmpty() && reading.obstacle() == Obstacle.UNKNOWN_WORD) {
      return withoutUnknown(reader, reading);
    }
    return new Lookup(typed, reading.parts(), sentence(reading));
  }

  /** What the rest of the words fit, so that one strange word does not hide the part. */
  private static Lookup withoutUnknown(TermReader reader, Reading reading) {
    String known =
        Arrays.stream(TermReader.normalForm(reading.typed()).split(" "))
            .filter(word -> !reading.obstacleWords().contains(word))
            .collect(Collectors.joining(" "));
    List<Concept> parts = reader.read(known).parts();
    String fits = parts.size() == 1 ? " Without it, this part fits." : " Without it, these parts fit.";
    String more = parts.isEmpty() ? "" : fits;
    return new Lookup(reading.typed(), parts, sentence(reading) + more);
  }

  /** Whether the typed name picks out one part, so that there is nothing to ask. */
  public boolean isClear() {
    return parts.size() == 1 && sentence.isEmpty();
  }

  private static String sentence(Reading reading) {
    String read = spelling(reading.corrections());
    if (reading.parts().size() == 1) {
      return "";
    }
    if (!reading.parts().isEmpty()) {
      return read + "That fits " + reading.parts().size() + " parts. Which one is meant?";
    }
    return read + sentence(reading.obstacle(), reading.obstacleWords());
  }

  private static String sentence(Obstacle obstacle, List<String> words) {
    String all = "“" + String.join("” and “", words) + "”";
    return switch (obstacle) {
      case NOTHING_SAID -> "Type the name of a part, or a piece of it.";
      case TOO_LONG -> "That is longer than any name. Type the name alone.";
      case DENIED -> "That says what the part is not. Type what it is.";
      case DESCRIBED -> "That describes a part. Type a name for it.";
      case UNKNOWN_WORD -> all + (words.size() == 1 ? " is" : " are") + " in no name that this glossary knows.";
      case EITHER_WORD -> "Which word was meant: “" + String.join("” or “", words) + "”?";
      case CONTRADICTION -> all + " cannot both be said of one part.";
      case NO_SUCH_PART, RULED_OUT, NONE -> "The words are known, but no part has such a name.";
    };
  }

  private static String spelling(List<Correction> corrections) {
    return corrections.isEmpty()
        ? ""
        : "Read as " + String.join(", ", corrections.stream().map(c -> "“" + c.read() + "”").toList()) + ". ";
  }
}
