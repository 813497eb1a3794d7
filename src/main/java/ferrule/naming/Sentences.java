package ferrule.naming;

import ferrule.glossary.Concept;
import java.util.List;
import java.util.stream.Collectors;

/** The wording of verdicts. */
final class Sentences {

  private static final int MOST_NAMED = 4;
  private static final int MOST_QUOTED = 60;

  private Sentences() {}

  static String spelling(Reading reading) {
    if (reading.corrections().isEmpty()) {
      return "";
    }
    return " Mind the spelling: "
        + reading.corrections().stream().map(Correction::read).distinct().collect(Collectors.joining(", ")) + ".";
  }

  static String tooVague(Verdict.TooVague verdict) {
    String which =
        verdict.missing().isEmpty()
            ? "Say which of them."
            : "It leaves open: " + verdict.missing().stream().map(Question::title).collect(Collectors.joining("; ")) + ".";
    return fits(verdict.reading().typed(), verdict.fits()) + " " + which;
  }

  static String fits(String typed, List<Concept> parts) {
    String count = parts.size() == 1 ? " fits one part: " : " fits " + parts.size() + " parts: ";
    return quoted(typed) + count + names(parts) + ".";
  }

  static String nounMissing(Verdict.TooVague verdict) {
    return quoted(verdict.reading().typed()) + " says which one, but not of what: name the part itself.";
  }

  static String wrongQualifier(Verdict.WrongQualifier verdict) {
    String asked = verdict.asked().term();
    List<Concept> read = verdict.reading().parts();
    if (verdict.is().isEmpty()) {
      return "Nearly: leave out " + quoted(verdict.said()) + ". This is the " + asked + ".";
    }
    String named =
        read.size() == 1
            ? "You named the " + read.get(0).term() + "; this is the " + asked + "."
            : "You said " + verdict.said() + "; this is the " + asked + ".";
    return "Nearly. One thing to look at again: " + verdict.question().title() + ". " + named;
  }

  static String otherPart(Verdict.OtherPart verdict) {
    List<Concept> read = verdict.read();
    Concept asked = verdict.asked();
    if (read.size() > 1) {
      return quoted(verdict.reading().typed()) + " fits other parts (" + names(read) + "), not this one. This is the "
          + asked.term() + ".";
    }
    boolean whole = asked.partOf().filter(read.get(0).id()::equals).isPresent();
    return whole
        ? "The " + read.get(0).term() + " is what this part belongs to. The part itself is the " + asked.term() + "."
        : "That names another part, the " + read.get(0).term() + ". This is the " + asked.term() + ".";
  }

  static String unknown(Reading reading) {
    List<String> words = reading.obstacleWords().stream().map(Sentences::quoted).toList();
    return switch (reading.obstacle()) {
      case NOTHING_SAID, NONE -> "There is no part name in this answer.";
      case TOO_LONG -> "This is too long for a part name. Give the name alone.";
      case DENIED -> "This answer does not name a part.";
      case DESCRIBED -> "This describes the part. Give its name.";
      case UNKNOWN_WORD -> and(words) + (words.size() == 1 ? " is" : " are") + " not in the list of trade terms.";
      case EITHER_WORD -> "One word could be read two ways, as " + or(words) + ". Check the spelling.";
      case CONTRADICTION -> "You said both " + and(words) + "; a part is one or the other.";
      case RULED_OUT -> "Your instructor does not accept this answer: " + String.join(" ", reading.obstacleWords());
      case NO_SUCH_PART -> "These are words of the trade, but no part of this instrument has such a name.";
    };
  }

  static String names(List<Concept> concepts) {
    List<String> terms = concepts.stream().limit(MOST_NAMED).map(Concept::term).toList();
    int more = concepts.size() - terms.size();
    return more > 0 ? String.join(", ", terms) + " and " + more + " more" : and(terms);
  }

  private static String and(List<String> items) {
    return listed(items, " and ");
  }

  private static String or(List<String> items) {
    return listed(items, " or ");
  }

  private static String listed(List<String> items, String last) {
    return items.size() < 2
        ? String.join("", items)
        : String.join(", ", items.subList(0, items.size() - 1)) + last + items.get(items.size() - 1);
  }

  /** An answer in quotation marks, on one line and not longer than reads well. */
  static String quoted(String text) {
    String line = text.strip().replaceAll("\\s+", " ");
    boolean longer = line.codePointCount(0, line.length()) > MOST_QUOTED;
    return "\u201c" + (longer ? line.substring(0, line.offsetByCodePoints(0, MOST_QUOTED)) + "\u2026" : line) + "\u201d";
  }
}
