package ferrule.app;

import ferrule.people.Cohort;
import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.web.DemoAccount;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.List;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * The invented demo programme: the Cinder Ford Brass Bench, a river-town guild workshop that trains repair apprentices
 * at night. Every person, date and record in it is made up, and it is the same each time, in {@link DemoTerms} that come up to
 * today.
 */
final class DemoProgramme {

  /** The accounts that the demo's sign-in page shows. */
  static final List<DemoAccount> ACCOUNTS =
      List.of(
          new DemoAccount("Wren Aldous, apprentice in the first year", "wren", "copper kettle", ""),
          new DemoAccount("Isolde Farrow, instructor", "isolde", "brass lantern", "2468"),
          new DemoAccount("Magnus Thorley, coordinator", "magnus", "river ledger", ""));

  private static final List<String> FIRST_YEAR =
      List.of(
          "Wren Aldous", "Bram Okoro", "Cass Delaine", "Dov Marchetti", "Edda Lindqvist", "Fenn Abara", "Greta Soames",
          "Hale Petrov", "Ines Calloway", "Jory Tamm", "Kit Vance", "Lio Haverford", "Mirren Osei", "Nell Quayle");
  private static final List<String> SECOND_YEAR =
      List.of(
          "Orla Benedek", "Perrin Achebe", "Quill Sandoval", "Rue Castellan", "Silas Merriman", "Thea Novak",
          "Uri Falconer", "Vesper Lund", "Wyatt Ibarra", "Xanthe Morrow", "Yara Pell", "Zeb Kowal", "Anselm Dray",
          "Briar Contee");

  private DemoProgramme() {}

  /** Fills an empty installation with terms that come up to its clock's today. */
  static void fill(Installation installation) {
    DemoTerms terms = DemoTerms.before(installation.clock());
    PeopleStore people = installation.people();
    people.add(staff("magnus", "Magnus Thorley", Role.COORDINATOR), password("magnus"), Optional.empty());
    Person isolde = staff("isolde", "Isolde Farrow", Role.INSTRUCTOR);
    Person tobias = staff("tobias", "Tobias Renn", Role.INSTRUCTOR);
    people.add(isolde, password("isolde"), Optional.of("2468"));
    people.add(tobias, password("tobias"), Optional.of("1357"));
    DemoCompetency competency = new DemoCompetency(installation, isolde, terms);
    String older = competency.keepEditions().edition();
    String edition = installation.books().programme().edition();
    Cohort first = new Cohort(id("first year"), "First year", edition, terms.day(2026, 9, 7), terms.day(2027, 6, 25));
    Cohort second = new Cohort(id("second year"), "Second year", older, terms.day(2026, 2, 2), terms.day(2026, 12, 18));
    enrol(people, first, FIRST_YEAR, Optional.of("Jory Tamm"));
    enrol(people, second, SECOND_YEAR, Optional.empty());
    List<Person> firstYear = people.membersEver(first.id());
    List<Person> secondYear = people.membersEver(second.id());
    new DemoDrills(installation.database(), installation.books(), isolde, terms).fill(first, firstYear, second, secondYear);
    new DemoBench(installation.database(), installation.books().tasks(), List.of(isolde, tobias), terms)
        .fill(firstYear, first.startsOn(), secondYear, second.startsOn());
    competency.fill(firstYear, first.startsOn(), secondYear, second.startsOn());
  }

  private static void enrol(PeopleStore people, Cohort cohort, List<String> names, Optional<String> leaver) {
    people.add(cohort);
    for (String name : names) {
      Optional<LocalDate> leftOn =
          leaver.filter(name::equals).map(n -> cohort.startsOn().plusWeeks(6));
      String signInName = name.substring(0, name.indexOf(' ')).toLowerCase(Locale.ROOT);
      Person person = new Person(id(name), signInName, name, Role.APPRENTICE, leftOn);
      password(signInName).ifPresentOrElse(
          shown -> people.add(person, Optional.of(shown), Optional.empty()), () -> people.addInvented(person));
      people.join(cohort.id(), id(name), cohort.startsOn(), leftOn);
    }
  }

  private static Person staff(String signInName, String fullName, Role role) {
    return new Person(id(fullName), signInName, fullName, role, Optional.empty());
  }

  /** The password that the sign-in page shows, if this is one of the demo's accounts. */
  private static Optional<String> password(String signInName) {
    return ACCOUNTS.stream()
        .filter(account -> account.signInName().equals(signInName))
        .map(DemoAccount::password)
        .findFirst();
  }

  /** The id of a person or cohort of the demo: always the same. */
  static UUID id(String name) {
    return UUID.nameUUIDFromBytes(("demo programme: " + name).getBytes(StandardCharsets.UTF_8));
  }
}
