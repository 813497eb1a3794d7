package ferrule.bench;

import java.util.List;
import java.util.Map;
import java.util.stream.Collectors;

/**
 * A grade as the review and the record show it in full.
 *
 * @param standing {@code not yet}, {@code sound} or {@code fine}
 * @param meets whether it meets the standard
 */
record GradeView(
    String apprentice,
    String task,
    String instrument,
    String tag,
    String standing,
    boolean meets,
    List<String> reasons,
    List<FindingView> findings,
    List<String> cautions,
    List<GradePhoto> photos,
    boolean secondSignature,
    String note) {

  /**
   * A finding.
   *
   * @param detail how it was measured; empty for a rating
   */
  record FindingView(String title, boolean critical, int weight, String state, String verdict, String words, String detail) {}

  static GradeView of(Grade grade) {
    return new GradeView(
        grade.apprenticeName(), grade.taskTitle(), grade.instrument(), grade.tag(),
        grade.outcome().standing().word(), grade.outcome().standing().meets(),
        grade.outcome().reasons().stream().map(GradeView::sentence).toList(),
        grade.findings().stream().map(GradeView::finding).toList(), grade.cautions(), grade.photos(),
        grade.secondSignature(), grade.note());
  }

  private static FindingView finding(Finding f) {
    if (f instanceof Finding.Measured m) {
      boolean undecided = m.verdict() == Conformity.UNDECIDED;
      String detail = m.quantity() + "; " + m.gauge() + "; " + m.rule().inWords(m.expandedUncertainty(), m.unit()) + "; " + m.risk();
      return new FindingView(
          f.title(), f.critical(), f.weight(), undecided ? "open" : f.passes() ? "good" : "bad",
          undecided ? "cannot tell" : f.passes() ? "passes" : "does not pass", sentence(f.sentence()), sentence(detail));
    }
    return new FindingView(
        f.title(), f.critical(), f.weight(), f.passes() ? "good" : "bad", f.passes() ? "passes" : "does not pass",
        sentence(f.sentence()), "");
  }

  /** Where another grade of the same work differs from the first, criterion by criterion, in sentences. */
  static List<String> differences(Grade first, Grade other) {
    Map<String, Finding> firsts =
        first.findings().stream().collect(Collectors.toMap(Finding::criterion, f -> f, (a, b) -> a));
    return other.findings().stream()
        .filter(f -> firsts.containsKey(f.criterion()) && !inShort(f).equals(inShort(firsts.get(f.criterion()))))
        .map(f -> f.title() + ": " + inShort(f) + ", signed as " + inShort(firsts.get(f.criterion())) + ".")
        .toList();
  }

  private static String inShort(Finding finding) {
    return finding instanceof Finding.Rated rated
        ? "level " + rated.level() + " of " + rated.levels()
        : ((Finding.Measured) finding).verdict().words();
  }

  private static String sentence(String text) {
    return capital(text) + ".";
  }

  static String capital(String text) {
    return Character.toUpperCase(text.charAt(0)) + text.substring(1);
  }
}
