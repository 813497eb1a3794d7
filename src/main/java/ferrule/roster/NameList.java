package ferrule.roster;

import ferrule.people.Person;
import ferrule.people.Role;
import java.text.Normalizer;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;

/**
 * A list of people as a coordinator types or pastes it: one person a line, the full name and, after a comma or a tab, the
 * name to sign in with. Without the latter one is made of the full name: "Wren Aldous" signs in as "wren.aldous".
 *
 * @param persons those that the lines describe, in their order; blank lines are passed over
 * @param problems what is wrong, each with its line; if there is any, nobody should be added
 */
public record NameList(List<Person> persons, List<String> problems) {

  private static final int LONGEST_FULL_NAME = 120;
  private static final int LONGEST_SIGN_IN_NAME = 80;

  /** Copies the lists. */
  public NameList {
    persons = List.copyOf(persons);
    problems = List.copyOf(problems);
  }

  /**
   * Reads a list.
   *
   * @param text the lines
   * @param role of everyone in it
   * @param taken tells which of some sign-in names, in lower case, are taken already
   */
  public static NameList parse(String text, Role role, Function<Collection<String>, Set<String>> taken) {
    List<Person> persons = new ArrayList<>();
    List<String> problems = new ArrayList<>();
    Map<String, Integer> lineOf = new HashMap<>();
    String[] lines = text.split("\\R", -1);
    for (int i = 0; i < lines.length; i++) {
      if (!lines[i].isBlank()) {
        int line = i + 1;
        Person person = person(lines[i], role);
        fault(person).ifPresentOrElse(fault -> problems.add("Line " + line + ": " + fault), () -> persons.add(person));
        Integer before = lineOf.putIfAbsent(person.signInName(), line);
        if (before != null) {
          problems.add("Line " + line + ": the sign-in name “" + person.signInName() + "” stands in line " + before
              + " too. Give each person another after a comma.");
        }
      }
    }
    for (String name : taken.apply(lineOf.keySet())) {
      problems.add("Line " + lineOf.get(name) + ": somebody signs in as “" + name
          + "” already. Give another name after a comma.");
    }
    if (persons.isEmpty() && problems.isEmpty()) {
      problems.add("Nobody is listed. Write one person a line.");
    }
    return new NameList(persons, problems);
  }

  private static Person person(String line, Role role) {
    String[] fields = line.split("[,\t]", 2);
    String fullName = fields[0].strip().replaceAll("\\s+", " ");
    String signInName = fields.length > 1 && !fields[1].isBlank() ? fields[1].strip() : proposed(fullName);
    // a line that gives no name still needs a value to be told about
    return new Person(
        UUID.randomUUID(),
        signInName.isEmpty() ? "?" : signInName.toLowerCase(Locale.ROOT),
        fullName.isEmpty() ? "?" : fullName,
        role,
        Optional.empty());
  }

  /** The name to sign in with that is made of a full name; empty if it has no letter or digit. */
  static String proposed(String fullName) {
    String plain = Normalizer.normalize(fullName, Normalizer.Form.NFD).replaceAll("\\p{M}", "");
    return plain.toLowerCase(Locale.ROOT).replaceAll("[^\\p{L}\\p{N}]+", ".").replaceAll("^\\.|\\.$", "");
  }

  /** Why somebody cannot have these names, if they cannot. */
  static Optional<String> fault(Person person) {
    if (person.fullName().equals("?") || person.signInName().equals("?")) {
      return Optional.of("a full name is expected first, then, if you like, a comma and the name to sign in with.");
    }
    if (person.fullName().length() > LONGEST_FULL_NAME) {
      return Optional.of("a full name has at most " + LONGEST_FULL_NAME + " characters.");
    }
    if (person.signInName().length() > LONGEST_SIGN_IN_NAME || person.signInName().matches(".*[\\s,].*")) {
      return Optional.of("a name to sign in with has at most " + LONGEST_SIGN_IN_NAME
          + " characters, without spaces or commas; given: “" + person.signInName() + "”.");
    }
    return Optional.empty();
  }
}
