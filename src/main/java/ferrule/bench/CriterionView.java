package ferrule.bench;

import java.util.ArrayList;
import java.util.List;

/**
 * A criterion as the grading page shows it.
 *
 * @param levels to choose from; empty for a measured one
 * @param oneUnit whether readings come in no other unit, so that a keypad of digits is enough to type them
 * @param limits in words; empty where the instructor sets them
 * @param state {@code good}, {@code bad}, {@code open} or {@code faulty}
 * @param words the verdict, or what is still to be done
 */
record CriterionView(
    String id,
    String title,
    boolean critical,
    boolean rated,
    List<LevelView> levels,
    String quantity,
    String unit,
    boolean oneUnit,
    String nominal,
    boolean ownLimits,
    String limits,
    String gauge,
    String rule,
    String reading,
    String lower,
    String upper,
    String state,
    String words) {

  /** A level to choose. */
  record LevelView(int number, String wording, boolean chosen, boolean passes) {}

  static CriterionView of(Grading.Line line, Entries entries) {
    String state = line.faulty() ? "faulty" : line.finding().map(CriterionView::state).orElse("open");
    String words = line.finding().map(CriterionView::words).orElse(line.open());
    Criterion c = line.criterion();
    if (c instanceof Criterion.Rated rated) {
      return new CriterionView(
          c.id(), c.title(), c.critical(), true, levels(rated, entries), "", "", false, "", false, "", "", "", "", "", "",
          state, words);
    }
    Criterion.Measured m = (Criterion.Measured) c;
    return new CriterionView(
        c.id(), c.title(), c.critical(), false, List.of(), GradeView.capital(m.quantity()), m.unit().symbol(),
        m.unit().alternatives().size() == 1, m.nominal().map(n -> n.toPlainString() + " " + m.unit().symbol()).orElse(""),
        m.limitsBelongToInstructor(), m.limits().map(l -> l.inWords(m.unit()) + " (" + l.source() + ")").orElse(""),
        m.gauge().inWords(m.unit()), m.rule().inWords(m.gauge().expandedUncertainty(), m.unit()), entries.readings().getOrDefault(c.id(), ""),
        entries.lowers().getOrDefault(c.id(), ""), entries.uppers().getOrDefault(c.id(), ""), state, words);
  }

  private static List<LevelView> levels(Criterion.Rated rated, Entries entries) {
    int chosen = entries.levels().getOrDefault(rated.id(), 0);
    List<LevelView> levels = new ArrayList<>();
    for (int n = 1; n <= rated.levels().size(); n++) {
      levels.add(new LevelView(n, rated.levels().get(n - 1), n == chosen, n >= rated.passLevel()));
    }
    return levels;
  }

  private static String state(Finding finding) {
    if (finding instanceof Finding.Measured m && m.verdict() == Conformity.UNDECIDED) {
      return "open";
    }
    return finding.passes() ? "good" : "bad";
  }

  private static String words(Finding finding) {
    if (finding instanceof Finding.Rated) {
      return finding.passes() ? "Passes" : "Does not pass";
    }
    String risk = finding instanceof Finding.Measured m ? "; " + m.risk() : "";
    return GradeView.capital(finding.sentence()) + risk + ".";
  }
}
