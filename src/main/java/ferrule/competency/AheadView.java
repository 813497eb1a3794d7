package ferrule.competency;

import ferrule.people.Cohort;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * The way ahead as an apprentice's record shows it.
 *
 * @param done steps taken
 * @param left steps that are left
 * @param rate steps in a week by now; empty where there is none
 * @param needed steps in a week to be done at the end of the programme; empty if that is past
 * @param ends the last day of the programme
 * @param likely about when it will be done at that rate; empty if too little was done to tell
 * @param between the days between which eight of ten would be done; empty likewise
 * @param due how many competencies should be complete by the plan
 * @param behind how many of those are not
 * @param openings what helps most to complete next, at most three
 */
record AheadView(
    int done,
    int left,
    String rate,
    String needed,
    String ends,
    String likely,
    String between,
    long due,
    long behind,
    List<OpeningView> openings) {

  private static final int SHOWN = 3;

  /** A competency that can be completed next and what waits for it. */
  record OpeningView(String id, String title, List<String> opens) {}

  /** The way of somebody in a cohort, who is not done. */
  static AheadView of(Progress progress, Course course, Cohort cohort, LocalDate day) {
    Pace pace = Pace.of(cohort);
    List<Competency> due = progress.programme().competencies().stream()
        .filter(c -> pace.due(c).filter(day::isAfter).isPresent()).toList();
    Optional<Course.Projection> projection = course.projection();
    return new AheadView(
        course.done(), course.left(), number(course.perWeek()), number(course.neededPerWeek(cohort.endsOn())),
        AsOf.inWords(cohort.endsOn()), projection.map(p -> AsOf.inWords(p.middle())).orElse(""),
        projection.map(AheadView::between).orElse(""), due.size(),
        due.stream().filter(c -> !progress.of(c.id()).isMet()).count(),
        Opening.of(progress, Optional.of(pace), day).stream()
            .filter(o -> !o.opens().isEmpty())
            .limit(SHOWN)
            .map(o -> new OpeningView(
                o.competency().id(), o.competency().title(), o.opens().stream().map(Competency::title).toList()))
            .toList());
  }

  private static String between(Course.Projection p) {
    return p.latest().map(last -> "between " + AsOf.inWords(p.earliest()) + " and " + AsOf.inWords(last))
        .orElse("after " + AsOf.inWords(p.earliest()));
  }

  private static String number(OptionalDouble number) {
    return number.isPresent() ? String.format(Locale.ENGLISH, "%.1f", number.getAsDouble()) : "";
  }
}
