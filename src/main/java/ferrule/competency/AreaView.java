package ferrule.competency;

import ferrule.bench.SignedWork;
import java.time.ZoneId;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.UUID;

/** An area of the programme as an apprentice's record shows it. */
public record AreaView(String title, List<CompetencyView> competencies) {

  /**
   * A competency.
   *
   * @param state the state as {@link VerdictWords} names it
   * @param sentence what is missing, in one sentence
   * @param missing the same, one by one
   */
  public record CompetencyView(
      String id,
      String title,
      String says,
      String state,
      String word,
      String sentence,
      List<String> missing,
      String proof,
      List<WorkView> works,
      List<String> names) {}

  /** A sign-off that counts. */
  public record WorkView(UUID record, long number, String on, String tag, String instructor, String standing, boolean meets) {}

  /** The areas of a programme as one apprentice stands in them; days are told in this zone. */
  public static List<AreaView> of(Programme programme, Progress progress, ZoneId zone) {
    DateTimeFormatter day = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH).withZone(zone);
    return programme.areas().stream()
        .map(a -> new AreaView(
            a.title(), a.competencies().stream().map(c -> view(c, progress.of(c.id()), day)).toList()))
        .toList();
  }

  private static CompetencyView view(Competency c, Verdict v, DateTimeFormatter day) {
    String proof = c.requires().inWords();
    return new CompetencyView(
        c.id(), c.title(), c.says(), VerdictWords.state(v), VerdictWords.word(v), v.sentence(), v.missing().stream().map(Gap::inWords).toList(),
        Character.toUpperCase(proof.charAt(0)) + proof.substring(1) + ".",
        v.works().stream().map(w -> work(w, day)).toList(),
        v.names().entrySet().stream().filter(n -> n.getValue().right() > 0).map(AreaView::named).toList());
  }

  private static WorkView work(SignedWork w, DateTimeFormatter day) {
    return new WorkView(
        w.record(), w.number(), day.format(w.gradedAt()), w.tag(), w.instructorName(), w.standing().word(),
        w.standing().meets());
  }

  private static String named(Map.Entry<String, PartsNamed> entry) {
    PartsNamed n = entry.getValue();
    return n.right() + " of " + n.of() + " parts of the " + entry.getKey() + " named right when last asked";
  }
}
