package ferrule.drill;

import ferrule.drill.item.Interaction;
import ferrule.drill.item.Option;
import ferrule.procedure.OrderJudge;
import java.util.List;
import java.util.Locale;

/**
 * An item in words, for whoever shows or prints it: its stem, what stands under the stem, its options, its key. The
 * drawing is made by {@link Pictures#asking}.
 */
public record ItemWords(PartNames names) {

  /** What is asked, in a sentence or two. */
  public String stem(Item item) {
    if (!item.interaction().stem().isEmpty()) {
      return item.interaction().stem();
    }
    return item.kind() == ItemKind.NAME ? "What is the lit part called?" : "Find: " + names.term(item.key());
  }

  /** Lines that belong to the stem, such as the steps that have been done; mostly none. */
  public List<String> given(Item item) {
    return item.choice().map(Interaction.Choice::given).orElse(List.of());
  }

  /** What can be chosen, or the steps that are to be put in order, as they are shown; empty where nothing is. */
  public List<String> options(Item item) {
    return item.choice()
        .map(c -> c.options().stream().map(Option::text).toList())
        .or(() -> item.ordering().map(o -> o.steps().stream().map(Interaction.Placed::name).toList()))
        .orElse(List.of());
  }

  /**
   * Whether a text that stands beside an item, such as the drill's title, would tell its answer: a part that is to be
   * named must not stand anywhere in the page.
   */
  boolean isToldBy(Item item, String text) {
    if (item.kind().isPointed() || item.kind() == ItemKind.SECOND_TERM) {
      return false;
    }
    String said = text.toLowerCase(Locale.ROOT);
    return names.isToldBy(item.key(), text)
        || item.choice().isPresent() && key(item).stream().anyMatch(k -> said.contains(k.toLowerCase(Locale.ROOT)));
  }

  /** The right answer: a name or several that are right, an option, or the steps of an order that works. */
  public List<String> key(Item item) {
    if (item.choice().isPresent()) {
      return List.of(item.choice().get().key().text());
    }
    if (item.ordering().isPresent()) {
      Interaction.Ordering ordering = item.ordering().get();
      return OrderJudge.judge(ordering.work(), ordering.shown()).mended().stream().map(ordering::name).toList();
    }
    return item.interaction() instanceof Interaction.TextEntry entry && !entry.examples().isEmpty()
        ? entry.examples()
        : List.of(names.term(item.key()));
  }
}
