package ferrule.competency;

import ferrule.bench.SignedWork;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/** An area of the programme as an apprentice's record shows it. */
public record AreaView(String title, List<CompetencyView> competencies) {

  /**
   * A competency.
   *
   * @param state the state as {@link VerdictWords} names it
   * @param missing what is missing, one by one
   * @param hint what else helps to understand that; may be empty
   * @param planned by when it is meant to be complete; may be empty
   * @param evidence what speaks for it beside sign-offs
   */
  public record CompetencyView(
      String id,
      String title,
      String says,
      String state,
      String word,
      List<String> missing,
      String hint,
      String planned,
      boolean behind,
      String proof,
      List<WorkView> works,
      List<String> evidence) {}

  /** A sign-off that counts. */
  public record WorkView(UUID record, long number, String on, String tag, String instructor, String standing) {}

  /** The areas of a programme as one apprentice stands in them, without any plan; days are told in this zone. */
  public static List<AreaView> of(Progress progress, ZoneId zone) {
    return of(progress, Optional.empty(), new AsOf(LocalDate.ofInstant(progress.asOf(), zone), progress.asOf(), false), zone);
  }

  /**
   * The areas of a programme as one apprentice stands in them.
   *
   * @param pace by which it is told what is behind, if there is one
   * @param zone in which days are told
   */
  public static List<AreaView> of(Progress progress, Optional<Pace> pace, AsOf asOf, ZoneId zone) {
    return progress.programme().areas().stream()
        .map(a -> new AreaView(
            a.title(),
            a.competencies().stream().map(c -> view(c, progress.of(c.id()), pace, asOf, zone)).toList()))
        .toList();
  }

  private static CompetencyView view(Competency c, Verdict v, Optional<Pace> pace, AsOf asOf, ZoneId zone) {
    return new CompetencyView(
        c.id(), c.title(), c.says(), VerdictWords.state(v), VerdictWords.word(v),
        v.missing().stream().map(Gap::inWords).map(AreaView::capital).toList(), v.hint().map(h -> h + ".").orElse(""),
        pace.flatMap(p -> p.due(c)).map(AsOf::inWords).orElse(""),
        pace.filter(p -> p.isBehind(c, v, asOf.day())).isPresent(), capital(c.requires().inWords()) + ".",
        v.works().stream().map(w -> work(w, zone)).toList(), evidence(v, zone));
  }

  private static WorkView work(SignedWork w, ZoneId zone) {
    return new WorkView(
        w.record(), w.number(), AsOf.inWords(LocalDate.ofInstant(w.gradedAt(), zone)), w.tag(), w.instructorName(),
        w.standing().word());
  }

  private static List<String> evidence(Verdict v, ZoneId zone) {
    List<String> evidence = new ArrayList<>();
    v.equivalence().ifPresent(e -> evidence.add(
        "Prior learning, entered by " + e.grantedByName() + " on "
            + AsOf.inWords(LocalDate.ofInstant(e.grantedAt(), zone)) + ": " + e.reason()));
    v.before().forEach((title, complete) -> evidence.add("“" + title + "” " + (complete ? "complete" : "not complete yet")));
    v.names().entrySet().stream().filter(n -> n.getValue().right() > 0).map(AreaView::named).forEach(evidence::add);
    if (v.minutes() > 0) {
      evidence.add(BenchHours.inWords(v.minutes()) + " at the bench");
    }
    return evidence;
  }

  private static String named(Map.Entry<String, PartsNamed> entry) {
    PartsNamed n = entry.getValue();
    return n.right() + " of " + n.of() + " parts of the " + entry.getKey() + " named right when last asked";
  }

  static String capital(String sentence) {
    return Character.toUpperCase(sentence.charAt(0)) + sentence.substring(1);
  }
}
