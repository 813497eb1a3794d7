package ferrule.drill;

import java.util.Arrays;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.stream.LongStream;

/**
 * What an instructor is told of a drill before it is set.
 *
 * @param items how many questions
 * @param minutes how long it takes, by our estimate for each kind of question
 * @param percent the score to expect of an apprentice of this class's middling ability
 * @param word how hard that is, in a word
 * @param apart by how many hundredths of the highest score two apprentices' forms differ at most, among those tried
 * @param rows how many questions of which kind
 * @param samples some of the questions, as one apprentice would get them
 */
record Preview(
    int items, long minutes, long percent, String word, String apart, List<Row> rows, List<String> samples) {

  private static final int FORMS = 12;
  private static final int SAMPLES = 5;
  private static final double EASY = 0.75;
  private static final double HARD = 0.5;

  /** How many questions of a kind. */
  public record Row(String kind, long count) {}

  /**
   * The preview of a plan.
   *
   * @param occasion what the drill's forms have in common
   */
  static Preview of(ItemBank bank, Chances chances, Plan plan, PartNames names, long occasion) {
    ItemDraw draw = new ItemDraw(bank, chances);
    List<Item> items = draw.items(plan, 0, occasion, Set.of());
    double[] expected =
        LongStream.range(0, FORMS).mapToDouble(seed -> draw.expected(plan, seed, occasion)).toArray();
    double most = Math.max(1, items.size());
    double mean = Arrays.stream(expected).average().orElse(0) / most;
    double apart =
        (Arrays.stream(expected).max().orElse(0) - Arrays.stream(expected).min().orElse(0)) / most;
    long seconds = items.stream().mapToLong(i -> i.kind().seconds()).sum();
    ItemWords words = new ItemWords(names);
    return new Preview(
        items.size(),
        Math.max(1, Math.round(seconds / 60.0)),
        Math.round(100 * mean),
        mean >= EASY ? "easy" : mean >= HARD ? "middling" : "hard",
        String.format(Locale.ROOT, "%.1f", 100 * apart),
        Arrays.stream(ItemKind.values())
            .map(k -> new Row(k.title(), items.stream().filter(i -> i.kind() == k).count()))
            .filter(r -> r.count() > 0)
            .toList(),
        items.stream().map(words::stem).distinct().limit(SAMPLES).toList());
  }
}
