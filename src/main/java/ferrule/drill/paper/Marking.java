package ferrule.drill.paper;

import ferrule.drill.Answer;
import ferrule.drill.Item;
import ferrule.drill.ItemWords;
import ferrule.drill.Marker;
import ferrule.drill.Outcome;
import ferrule.drill.PartNames;
import ferrule.drill.Pictures;
import ferrule.drill.item.Interaction;
import ferrule.glossary.Glossary;
import java.util.Optional;
import java.util.function.Supplier;

/** What an entry counts: what an instructor tapped as they tapped it, and what was copied as a drill judges it. */
final class Marking {

  /** The verdict on an answer that an instructor marked on paper, such as "paper-half". */
  static final String PREFIX = "paper-";

  private final Pictures pictures;
  private final Supplier<Marker> marker;
  private final ItemWords words;

  Marking(Pictures pictures, Supplier<Marker> marker, Glossary glossary) {
    this.pictures = pictures;
    this.marker = marker;
    this.words = new ItemWords(new PartNames(glossary));
  }

  /** Whether what was written is known exactly from one tap: the letter of an option. */
  static boolean isTicked(Item item) {
    return item.kind().isChosen();
  }

  /** Whether what was written can be copied and judged. */
  static boolean canCopy(Item item) {
    return item.kind().isTyped();
  }

  /** The tap that says that an item is answered in this way; on options, right is the letter of the key. */
  static Tap tap(Item item, Mark mark) {
    if (mark == Mark.RIGHT && isTicked(item)) {
      Interaction.Choice choice = item.choice().orElseThrow();
      return new Tap(item.position(), Mark.WRITTEN, Sections.letter(choice.options().indexOf(choice.key())));
    }
    return Tap.of(item.position(), mark);
  }

  /**
   * The tap that says that this was written.
   *
   * @return empty if it is none of the options, or nothing that can be copied
   */
  static Optional<Tap> written(Item item, String text) {
    boolean fits = isTicked(item) ? option(item, text).isPresent() : canCopy(item) && !text.isBlank();
    return fits && text.length() <= Answer.LONGEST
        ? Optional.of(new Tap(item.position(), Mark.WRITTEN, text))
        : Optional.empty();
  }

  private static Optional<String> option(Item item, String letter) {
    Interaction.Choice choice = item.choice().orElseThrow();
    int at = letter.length() == 1 ? letter.charAt(0) - 'a' : -1;
    return at >= 0 && at < choice.options().size() ? Optional.of(choice.options().get(at).id()) : Optional.empty();
  }

  /** The answer as it is kept: what was written where it was copied or ticked, otherwise none. */
  static Answer answer(Item item, Tap tap) {
    if (tap.mark() != Mark.WRITTEN) {
      return Answer.none(item.kind());
    }
    return isTicked(item) ? new Answer.Chosen(option(item, tap.written())) : new Answer.Typed(tap.written());
  }

  /** What it counts. */
  Outcome outcome(Item item, Tap tap, boolean colloquial) {
    return switch (tap.mark()) {
      case WRITTEN, BLANK -> marker.get().mark(item, answer(item, tap), pictures.sight(item), colloquial);
      case RIGHT, HALF, WRONG ->
          new Outcome(PREFIX + tap.mark().word(), tap.mark().credit(), reason(item, tap), Optional.empty());
    };
  }

  private String reason(Item item, Tap tap) {
    String marked = "Your instructor marked that " + tap.mark().word() + " on your paper.";
    return item.ordering().isPresent() || tap.mark() == Mark.RIGHT
        ? marked
        : marked + " The answer is: " + String.join("; ", words.key(item)) + ".";
  }
}
