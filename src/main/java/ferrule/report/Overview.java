package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competencies;
import ferrule.competency.Desk;
import ferrule.competency.Programme;
import ferrule.competency.States;
import ferrule.people.Cohort;
import ferrule.people.Member;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;

/**
 * Every cohort of the school at one moment, each apprentice in the least that counting needs.
 *
 * @param asOf the moment
 * @param cohorts the latest first; empty while somebody is waiting to be judged
 * @param apprentices how many are in them
 * @param waiting how many of these are to be judged first, where they are too many to be judged while somebody waits
 */
public record Overview(AsOf asOf, List<OfCohort> cohorts, int apprentices, int waiting) {

  /** So many are judged while somebody waits for a page; it takes a second or a few. Our own choice, no source. */
  private static final int AT_ONCE = 400;

  /**
   * A cohort.
   *
   * @param programme the edition that its members are judged by
   * @param rows one for each apprentice who is there, by name
   */
  public record OfCohort(Cohort cohort, Programme programme, List<Row> rows) {}

  /** An apprentice and how they stand. */
  public record Row(Member member, States states) {}

  /** Copies the list. */
  public Overview {
    cohorts = List.copyOf(cohorts);
  }

  /** Every cohort at a moment, without those who had left by then. */
  public static Overview of(Desk desk, AsOf asOf) {
    return of(desk, asOf, AT_ONCE);
  }

  /** The same, however many are to be judged for it. */
  static Overview whole(Desk desk, AsOf asOf) {
    return of(desk, asOf, Integer.MAX_VALUE);
  }

  private static Overview of(Desk desk, AsOf asOf, int most) {
    List<Cohort> cohorts = desk.people().cohorts();
    Map<UUID, List<Member>> members = desk.apprenticesOfAll(asOf);
    Map<UUID, List<UUID>> ids = new LinkedHashMap<>();
    int apprentices = 0;
    for (Cohort cohort : cohorts) {
      List<UUID> there = members.getOrDefault(cohort.id(), List.of()).stream().map(m -> m.person().id()).toList();
      ids.put(cohort.id(), there);
      apprentices += there.size();
    }
    Competencies.Counted counted = desk.competencies().counted(ids, asOf.instant(), most);
    if (counted.waiting() > 0) {
      return new Overview(asOf, List.of(), apprentices, counted.waiting());
    }
    List<OfCohort> found = new ArrayList<>();
    for (Cohort cohort : cohorts) {
      Map<UUID, States> states = counted.states().get(cohort.id());
      List<Row> rows = members.getOrDefault(cohort.id(), List.of()).stream()
          .map(m -> new Row(m, states.get(m.person().id()))).toList();
      found.add(new OfCohort(cohort, counted.programmes().get(cohort.id()), rows));
    }
    return new Overview(asOf, found, apprentices, 0);
  }
}
