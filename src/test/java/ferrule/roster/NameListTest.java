package ferrule.roster;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.Person;
import ferrule.people.Role;
import java.util.Collection;
import java.util.List;
import java.util.Set;
import java.util.function.Function;
import java.util.stream.Collectors;
import net.jqwik.api.ForAll;
import net.jqwik.api.Property;
import org.junit.jupiter.api.Test;

class NameListTest {

  private static final Function<Collection<String>, Set<String>> NOBODY = names -> Set.of();

  private static NameList parse(String text) {
    return NameList.parse(text, Role.APPRENTICE, NOBODY);
  }

  @Test
  void aFullNameAloneMakesItsOwnSignInName() {
    List<Person> persons = parse("Wren Aldous\n\n  Édda   Lindqvist-Roe \nBram Okoro, bram").persons();
    assertEquals(
        List.of("wren.aldous", "edda.lindqvist.roe", "bram"), persons.stream().map(Person::signInName).toList());
    assertEquals("Édda Lindqvist-Roe", persons.get(1).fullName());
  }

  @Test
  void everyProblemIsToldWithItsLine() {
    NameList list =
        NameList.parse(
            "Wren Aldous\n, nameless\nWren  Aldous\nBram Okoro, two words\nTaken Tamm, taken",
            Role.APPRENTICE,
            names -> names.stream().filter("taken"::equals).collect(Collectors.toSet()));
    assertEquals(4, list.problems().size(), list.problems().toString());
    assertTrue(list.problems().get(0).startsWith("Line 2: a full name is expected first"));
    assertTrue(list.problems().get(1).startsWith("Line 3: the sign-in name “wren.aldous” stands in line 1 too"));
    assertTrue(list.problems().get(2).startsWith("Line 4: a name to sign in with"));
    assertTrue(list.problems().get(3).startsWith("Line 5: somebody signs in as “taken” already"));
  }

  @Test
  void anEmptyListIsAProblem() {
    assertEquals(List.of("Nobody is listed. Write one person a line."), parse(" \n \n").problems());
  }

  @Property(tries = 300)
  void anyTextIsReadWithoutAFault(@ForAll String text) {
    NameList list = parse(text);
    assertTrue(list.problems().stream().allMatch(p -> p.startsWith("Line ") || p.startsWith("Nobody")));
  }
}
