package ferrule.competency;

import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import java.time.Clock;
import java.time.LocalDate;
import java.time.ZoneId;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * What every page about competencies works with.
 *
 * @param competencies evaluates the programme
 * @param people who is there
 * @param clock the time
 * @param zone the school's, in which days begin and end
 */
public record Desk(Competencies competencies, PeopleStore people, Clock clock, ZoneId zone) {

  /** Today in the school's zone. */
  public LocalDate today() {
    return LocalDate.ofInstant(clock.instant(), zone);
  }

  /**
   * The moment that a date names.
   *
   * @throws IllegalArgumentException if the text is not a date
   */
  public AsOf asOf(Optional<String> date) {
    return AsOf.parse(date, clock, zone);
  }

  /** Now. */
  public AsOf now() {
    return asOf(Optional.empty());
  }

  /** A cohort's apprentices, by name. */
  public List<Person> apprentices(Cohort cohort, boolean leaversToo) {
    List<Person> members = leaversToo ? people.membersEver(cohort.id()) : people.members(cohort.id());
    return members.stream().filter(p -> p.role() == Role.APPRENTICE).toList();
  }

  /**
   * A cohort's apprentices as it was at a moment, by name: on a past day those who had joined by then and were still
   * there; now, also those who are to join.
   *
   * @param leaversToo whether those who had left by then are among them
   */
  public List<Member> apprentices(Cohort cohort, AsOf asOf, boolean leaversToo) {
    return people.roster(cohort.id()).stream().filter(m -> belongs(m, asOf, leaversToo)).toList();
  }

  /** The same of every cohort, without those who had left by then. */
  public Map<UUID, List<Member>> apprenticesOfAll(AsOf asOf) {
    Map<UUID, List<Member>> apprentices = new HashMap<>();
    people.rosters().forEach((cohort, members) ->
        apprentices.put(cohort, members.stream().filter(m -> belongs(m, asOf, false)).toList()));
    return apprentices;
  }

  private static boolean belongs(Member member, AsOf asOf, boolean leaversToo) {
    return member.person().role() == Role.APPRENTICE
        && (!asOf.past() || member.hasJoined(asOf.day()))
        && (leaversToo || !member.hasLeft(asOf.day()));
  }
}
