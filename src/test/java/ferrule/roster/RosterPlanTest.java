package ferrule.roster;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.Cohort;
import ferrule.people.Enrolment;
import ferrule.people.Person;
import ferrule.people.Role;
import java.nio.charset.StandardCharsets;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

class RosterPlanTest {

  private static final Cohort FIRST = cohort("First year");
  private static final Cohort SECOND = cohort("Second year");
  private static final RosterPlan.Present NOBODY = present(List.of(), Map.of());

  private static Cohort cohort(String title) {
    return new Cohort(UUID.randomUUID(), title, "edition", LocalDate.of(2026, 9, 7), LocalDate.of(2027, 6, 25));
  }

  private static RosterPlan.Present present(List<Person> people, Map<UUID, Set<UUID>> members) {
    return new RosterPlan.Present(people, List.of(FIRST, SECOND), members);
  }

  private static Person person(String signIn, String name, Role role) {
    return new Person(UUID.randomUUID(), signIn, name, role, Optional.empty());
  }

  private static RosterPlan plan(String text, RosterPlan.Present present) {
    return RosterPlan.of(RosterFile.parse(text), Optional.of(FIRST), present);
  }

  /** What the school looks like once a plan has been carried out. */
  private static RosterPlan.Present after(RosterPlan.Present before, RosterPlan plan) {
    List<Person> people = new ArrayList<>(before.people());
    Map<UUID, Set<UUID>> members = new HashMap<>();
    before.members().forEach((cohort, ids) -> members.put(cohort, new HashSet<>(ids)));
    for (Enrolment e : plan.enrolments()) {
      if (e.isNew()) {
        people.add(e.person());
      }
      e.cohort().ifPresent(c -> members.computeIfAbsent(c, x -> new HashSet<>()).add(e.person().id()));
    }
    return new RosterPlan.Present(people, before.cohorts(), members);
  }

  private static List<String> problems(String text, RosterPlan.Present present) {
    return plan(text, present).problems().stream().map(p -> p.place() + ": " + p.message()).toList();
  }

  @Test
  void aListAsSpreadsheetsSaveItIsRead() {
    String text = "\uFEFFName;Sign-in name;Cohort;Locker\r\n"
        + "\"Aldous; Wren\";Wren;Second year;12\r\n\r\nBram  Okoro;;;13\r\n;;;\r\n";
    RosterPlan plan = plan(text, NOBODY);
    assertEquals(List.of(), plan.problems());
    assertEquals(List.of("Aldous; Wren", "Bram Okoro"), plan.added().stream().map(e -> e.person().fullName()).toList());
    assertEquals(List.of("wren", "bram.okoro"), plan.added().stream().map(e -> e.person().signInName()).toList());
    assertEquals(
        List.of(Optional.of(SECOND.id()), Optional.of(FIRST.id())),
        plan.enrolments().stream().map(Enrolment::cohort).toList());
    assertEquals(List.of("Locker"), RosterFile.parse(text).passedOver());
  }

  @Test
  void everyProblemIsToldByLineAndColumn() {
    RosterPlan.Present present = present(
        List.of(person("tobias", "Tobias Renn", Role.INSTRUCTOR),
            new Person(UUID.randomUUID(), "jory", "Jory Tamm", Role.APPRENTICE, Optional.of(LocalDate.of(2026, 10, 1)))),
        Map.of());
    List<String> problems = problems(
        "name,sign-in name,cohort,role\n"
            + "Wren Aldous,wren,Third year,\n"
            + ",bram,,\n"
            + "Cass Delaine,two words,,\n"
            + "\"Dov\nMarchetti\",dov,,\n"
            + "Edda Lindqvist,dov,,\n"
            + "Fenn Abara,tobias,,\n"
            + "Jory Tamm,jory,,\n"
            + "Greta Soames,greta,,teacher\n",
        present);
    assertEquals(
        List.of(
            "Line 2, column 3: There is no cohort “Third year”; there are: First year, Second year.",
            "Line 3, column 1: A full name is missing.",
            "Line 4, column 2: A name to sign in with has at most 80 characters, without spaces or commas; given: “two words”.",
            "Line 7, column 2: “dov” stands in line 5 too.",
            "Line 8, column 2: “tobias” is Tobias Renn, instructor, here. Give another name to sign in with, or the same full "
                + "name and role.",
            "Line 9, column 1: Jory Tamm has left. Take that back on the page of people first, or leave the line out.",
            "Line 10, column 4: A role is “apprentice” or “instructor”; given: “teacher”."),
        problems);
  }

  @Test
  void aFileWithoutAColumnOfNamesIsNotGuessedAt() {
    assertEquals(
        List.of("Line 1: The first line names the columns, and one of them is “name”; here it says “Wren Aldous”, “wren”."),
        problems("Wren Aldous,wren\nBram Okoro,bram", NOBODY));
    assertEquals(1, problems("name,full name\nWren,Wren", NOBODY).size());
    assertEquals(1, problems("  ", NOBODY).size());
    assertEquals(1, problems("name\n", NOBODY).size());
    assertEquals(1, problems("name\n\"Wren", NOBODY).size());
  }

  @Test
  void apprenticesNeedACohortAndInstructorsNone() {
    RosterPlan plan = RosterPlan.of(
        RosterFile.parse("name,role\nIsolde Farrow,instructor\nWren Aldous,\n"), Optional.empty(), NOBODY);
    assertEquals(List.of(3), plan.problems().stream().map(RosterFile.Problem::line).toList());
    assertEquals(List.of("Isolde Farrow"), plan.added().stream().map(e -> e.person().fullName()).toList());
  }

  @Test
  void takingTheSameFileInAgainDoesNothingAndALongerOneAddsTheRest() {
    String text = "name,cohort\nWren Aldous,First year\nBram Okoro,First year\n";
    RosterPlan first = plan(text, NOBODY);
    RosterPlan.Present then = after(NOBODY, first);
    RosterPlan again = plan(text, then);
    assertEquals(0, again.enrolments().size());
    assertEquals(2, again.unchanged());
    RosterPlan longer = plan(text + "Cass Delaine,First year\nwren  ALDOUS,Second year\n", then);
    assertEquals(1, longer.problems().size(), "twice in one file may be two people");
    RosterPlan moved = plan(text.replace("Wren Aldous,First", "Wren Aldous,Second") + "Cass Delaine,First year\n", then);
    assertEquals(1, moved.added().size());
    assertEquals(1, moved.joining().size());
    assertEquals(1, moved.unchanged());
  }

  @Test
  void twoPeopleOfOneNameAreToldApartByTheirSignInNames() {
    RosterPlan.Present two = present(
        List.of(person("wren", "Wren Aldous", Role.APPRENTICE), person("wren2", "Wren Aldous", Role.APPRENTICE)), Map.of());
    assertTrue(problems("name\nWren Aldous", two).get(0).contains("2 people are called “Wren Aldous”"));
    assertEquals(1, plan("name,sign-in name\nWren Aldous,wren2", two).joining().size());
    RosterPlan.Present instructor = present(List.of(person("wren.aldous", "Wren Aldous", Role.INSTRUCTOR)), Map.of());
    assertEquals("wren.aldous2", plan("name\nWren Aldous", instructor).added().get(0).person().signInName());
  }

  @Test
  void aFileThatIsNotUtf8IsNotGuessedAt() {
    assertEquals(Optional.of("Édda"), RosterFile.decode("Édda".getBytes(StandardCharsets.UTF_8)));
    assertEquals(Optional.empty(), RosterFile.decode("Édda".getBytes(StandardCharsets.ISO_8859_1)));
  }

  @Property(tries = 300)
  void anyTextIsReadOrRefusedAndTakenInTwiceDoesNothingMore(@ForAll String text) {
    String file = "name,sign-in name\n" + text;
    RosterPlan plan = plan(file, NOBODY);
    if (plan.problems().isEmpty()) {
      assertEquals(List.of(), plan(file, after(NOBODY, plan)).enrolments());
    }
    RosterFile.parse(text);
  }
}
