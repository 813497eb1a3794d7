package ferrule.roster;

import ferrule.people.Cohort;
import ferrule.people.Enrolment;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.roster.RosterFile.Column;
import ferrule.roster.RosterFile.Line;
import ferrule.roster.RosterFile.Problem;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Collectors;

/**
 * What taking a roster in would do, found out without doing it. Taking the same roster in again does nothing: who signs in
 * by a name that the file gives, or without one has the same full name and role, is there already.
 *
 * @param enrolments who comes in, or joins a cohort, in the order of the file
 * @param unchanged how many are there already, just as the file says
 * @param problems in the order of the file; if there are any, nothing should be done
 */
public record RosterPlan(List<Enrolment> enrolments, int unchanged, List<Problem> problems) {

  /** Copies the lists. */
  public RosterPlan {
    enrolments = List.copyOf(enrolments);
    problems = List.copyOf(problems);
  }

  /**
   * The people and cohorts that are there.
   *
   * @param people everyone with an account, those who left too
   * @param cohorts all of them
   * @param members who is in each cohort, those who left it too
   */
  public record Present(List<Person> people, List<Cohort> cohorts, Map<UUID, Set<UUID>> members) {}

  /**
   * Finds out what a file would do.
   *
   * @param chosen the cohort of apprentices whose line names none
   */
  public static RosterPlan of(RosterFile file, Optional<Cohort> chosen, Present present) {
    Planner planner = new Planner(chosen, present);
    file.lines().forEach(planner::take);
    List<Problem> problems = new ArrayList<>(file.problems());
    problems.addAll(planner.problems);
    problems.sort(Comparator.comparingInt(Problem::line).thenComparingInt(Problem::column));
    return new RosterPlan(planner.enrolments, planner.unchanged, problems);
  }

  /** Those who get an account. */
  public List<Enrolment> added() {
    return enrolments.stream().filter(Enrolment::isNew).toList();
  }

  /** Those who have an account and join a cohort. */
  public List<Enrolment> joining() {
    return enrolments.stream().filter(e -> !e.isNew()).toList();
  }

  /** Goes through the lines and remembers what they claim. */
  private static final class Planner {

    private final Optional<Cohort> chosen;
    private final Present present;
    private final Map<String, Person> bySignIn = new HashMap<>();
    private final Map<String, List<Person>> byName;
    private final Set<String> taken = new HashSet<>();
    private final Map<String, Integer> lineOf = new HashMap<>();
    private final List<Enrolment> enrolments = new ArrayList<>();
    private final List<Problem> problems = new ArrayList<>();
    private int unchanged;

    Planner(Optional<Cohort> chosen, Present present) {
      this.chosen = chosen;
      this.present = present;
      present.people().forEach(p -> bySignIn.put(folded(p.signInName()), p));
      this.byName = present.people().stream().collect(Collectors.groupingBy(p -> key(p.role(), p.fullName())));
      taken.addAll(bySignIn.keySet());
    }

    private static String folded(String text) {
      return text.toLowerCase(Locale.ROOT);
    }

    private static String key(Role role, String fullName) {
      return role.word() + " " + folded(fullName);
    }

    void take(Line line) {
      int before = problems.size();
      Optional<Role> role = role(line);
      Optional<String> name = line.text(Column.NAME);
      if (name.isEmpty()) {
        problems.add(line.problem(Column.NAME, "A full name is missing."));
      }
      Optional<Cohort> cohort = role.filter(Role.APPRENTICE::equals).flatMap(r -> cohort(line));
      if (problems.size() > before || role.isEmpty() || name.isEmpty()) {
        return;
      }
      Optional<String> signIn = line.text(Column.SIGN_IN).map(Planner::folded);
      if (isTwice(line, role.get(), name.get(), signIn)) {
        return;
      }
      List<Person> there = signIn.map(s -> Optional.ofNullable(bySignIn.get(s)).map(List::of).orElse(List.of()))
          .orElseGet(() -> byName.getOrDefault(key(role.get(), name.get()), List.of()));
      if (there.size() > 1) {
        problems.add(line.problem(Column.NAME, there.size() + " people are called “" + name.get()
            + "”. Give the name to sign in with, so that it is clear who is meant."));
      } else if (there.isEmpty()) {
        add(line, role.get(), name.get(), signIn, cohort);
      } else {
        meet(line, role.get(), name.get(), there.get(0), cohort);
      }
    }

    private Optional<Role> role(Line line) {
      String word = line.text(Column.ROLE).map(Planner::folded).orElse(Role.APPRENTICE.word());
      if (word.equals(Role.APPRENTICE.word()) || word.equals(Role.INSTRUCTOR.word())) {
        return Optional.of(Role.parse(word));
      }
      problems.add(line.problem(Column.ROLE, "A role is “apprentice” or “instructor”; given: “" + word + "”."));
      return Optional.empty();
    }

    private Optional<Cohort> cohort(Line line) {
      Optional<String> title = line.text(Column.COHORT);
      if (title.isEmpty()) {
        if (chosen.isEmpty()) {
          problems.add(line.problem(
              Column.COHORT, "No cohort is named. Name it in a column “cohort”, or choose one for the whole file."));
        }
        return chosen;
      }
      Optional<Cohort> found = present.cohorts().stream().filter(c -> c.title().equalsIgnoreCase(title.get())).findFirst();
      if (found.isEmpty()) {
        problems.add(line.problem(Column.COHORT, "There is no cohort “" + title.get() + "”"
            + (present.cohorts().isEmpty() ? ". Make one first."
                : "; there are: " + present.cohorts().stream().map(Cohort::title).collect(Collectors.joining(", ")) + ".")));
      }
      return found;
    }

    private boolean isTwice(Line line, Role role, String name, Optional<String> signIn) {
      String claim = signIn.orElseGet(() -> key(role, name));
      Integer earlier = lineOf.putIfAbsent(claim, line.number());
      if (earlier == null) {
        return false;
      }
      problems.add(signIn.isPresent()
          ? line.problem(Column.SIGN_IN, "“" + signIn.get() + "” stands in line " + earlier + " too.")
          : line.problem(Column.NAME, "“" + name + "” stands in line " + earlier
              + " too. If they are two people, give each the name to sign in with."));
      return true;
    }

    private void add(Line line, Role role, String name, Optional<String> signIn, Optional<Cohort> cohort) {
      String signInName = signIn.orElseGet(() -> free(NameList.proposed(name)));
      Optional<String> fault = signInName.isEmpty()
          ? Optional.of("No name to sign in with can be made of “" + name + "”. Give one in a column “sign-in name”.")
          : NameList.fault(new Person(UUID.randomUUID(), signInName, name, role, Optional.empty()));
      if (fault.isPresent()) {
        problems.add(line.problem(signIn.isPresent() ? Column.SIGN_IN : Column.NAME, sentence(fault.get())));
        return;
      }
      taken.add(signInName);
      Person person = new Person(UUID.randomUUID(), signInName, name, role, Optional.empty());
      enrolments.add(new Enrolment(person, true, cohort.map(Cohort::id)));
    }

    private static String sentence(String words) {
      return words.substring(0, 1).toUpperCase(Locale.ROOT) + words.substring(1);
    }

    /** The name itself, or with the first number after it that nobody has. */
    private String free(String proposed) {
      String name = proposed;
      for (int n = 2; taken.contains(name); n++) {
        name = proposed + n;
      }
      return name;
    }

    private void meet(Line line, Role role, String name, Person there, Optional<Cohort> cohort) {
      if (there.role() != role || !folded(there.fullName()).equals(folded(name))) {
        problems.add(line.problem(Column.SIGN_IN, "“" + there.signInName() + "” is " + there.fullName() + ", "
            + there.role().word() + ", here. Give another name to sign in with, or the same full name and role."));
      } else if (!there.isPresent()) {
        problems.add(line.problem(
            Column.NAME, there.fullName() + " has left. Take that back on the page of people first, or leave the line out."));
      } else if (cohort.isPresent() && !members(cohort.get()).contains(there.id())) {
        enrolments.add(new Enrolment(there, false, cohort.map(Cohort::id)));
      } else {
        unchanged++;
      }
    }

    private Collection<UUID> members(Cohort cohort) {
      return present.members().getOrDefault(cohort.id(), Set.of());
    }
  }
}
