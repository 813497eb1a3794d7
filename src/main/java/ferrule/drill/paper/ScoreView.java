package ferrule.drill.paper;

import ferrule.drill.Item;
import ferrule.drill.ItemWords;
import ferrule.drill.Outcome;
import ferrule.drill.PartNames;
import ferrule.drill.Plan;
import ferrule.drill.ResponseView;
import ferrule.drill.item.Interaction;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;

/**
 * One apprentice's paper in words, while it is entered and after.
 *
 * @param rows its items
 * @param marked how many have been marked
 * @param points what the marks add up to
 * @param steps how many taps can be undone
 */
record ScoreView(List<Row> rows, int marked, String points, int steps) {

  /**
   * An item.
   *
   * @param number on the paper
   * @param term the right answer
   * @param others other right answers
   * @param copies whether what was written can be copied and judged
   * @param letters the letters of the options; empty if there are none
   * @param key the letter of the right option; empty if there are none
   * @param mark what was tapped: a mark or the letter of an option; empty if nothing was
   * @param written what was copied
   * @param state the state of the tag, if it was copied and judged
   * @param word the verdict in a word or two
   * @param reason the verdict in a sentence
   */
  record Row(
      int number,
      String term,
      String others,
      boolean copies,
      List<String> letters,
      String key,
      String mark,
      String written,
      String state,
      String word,
      String reason) {}

  static ScoreView of(Version version, Map<Integer, Tap> taps, int steps, Plan plan, Marking marking, PartNames names) {
    List<Row> rows = new ArrayList<>();
    double points = 0;
    for (Item item : version.items()) {
      Tap tap = taps.get(item.position());
      Outcome outcome = tap == null ? null : marking.outcome(item, tap, plan.colloquial());
      points += outcome == null ? 0 : outcome.credit();
      rows.add(row(item, tap, outcome, names));
    }
    return new ScoreView(rows, taps.size(), ResponseView.points(points), steps);
  }

  private static Row row(Item item, Tap tap, Outcome outcome, PartNames names) {
    boolean copied = tap != null && tap.mark() == Mark.WRITTEN && Marking.canCopy(item);
    List<String> letters = new ArrayList<>();
    item.choice().map(Interaction.Choice::options).orElse(List.of()).forEach(o -> letters.add(Sections.letter(letters.size())));
    String key = item.choice().map(c -> Sections.letter(c.options().indexOf(c.key()))).orElse("");
    String term = PartNames.capital(String.join("; ", new ItemWords(names).key(item)));
    return new Row(
        item.position(),
        item.ordering().isPresent() ? "An order that works, such as: " + term : term,
        Style.of(item) == Style.NAME ? names.others(item.key()) : "",
        Marking.canCopy(item),
        letters,
        key,
        tap == null ? "" : Marking.isTicked(item) && tap.mark() == Mark.WRITTEN ? tap.written() : tap.mark().word(),
        copied ? tap.written() : "",
        copied ? ResponseView.state(outcome) : "",
        copied ? ResponseView.word(outcome) : "",
        copied ? outcome.reason() : "");
  }
}
