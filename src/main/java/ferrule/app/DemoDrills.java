package ferrule.app;

import ferrule.drill.Answer;
import ferrule.drill.Assignment;
import ferrule.drill.Conditions;
import ferrule.drill.DrillStore;
import ferrule.drill.Drills;
import ferrule.drill.Item;
import ferrule.drill.ItemKind;
import ferrule.drill.Pace;
import ferrule.drill.Plan;
import ferrule.drill.Sitting;
import ferrule.drill.item.Interaction;
import ferrule.glossary.Concept;
import ferrule.glossary.ConceptId;
import ferrule.glossary.Glossary;
import ferrule.glossary.TermRole;
import ferrule.people.Cohort;
import ferrule.people.Person;
import ferrule.procedure.StepId;
import ferrule.store.Database;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.util.ArrayList;
import java.util.Collections;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;

/**
 * The drills of the invented demo programme: set over two terms and taken by apprentices of differing skill, who mix up
 * look-alikes, spell freely, leave qualifiers out, and now and then say what no glossary has.
 */
final class DemoDrills {

  private static final long SEED = 20260908;
  private static final LocalTime EVENING = LocalTime.of(19, 15);

  private final Random random = new Random(SEED);
  private final DemoClock clock = new DemoClock(Instant.EPOCH);
  private final Glossary glossary;
  private final DrillStore store;
  private final Drills drills;
  private final Person instructor;
  private final DemoTerms terms;

  DemoDrills(Database database, Books books, Person instructor, DemoTerms terms) {
    this.glossary = books.glossary();
    this.store = new DrillStore(database);
    this.drills =
        Drills.of(store, glossary, books.studio(), books.work(), books.edition(), clock, random::nextLong);
    this.instructor = instructor;
    this.terms = terms;
  }

  /** Sets the drills of both cohorts and takes most of them; one of the first year's is still to be taken by most. */
  void fill(Cohort firstYear, List<Person> first, Cohort secondYear, List<Person> second) {
    Set<ItemKind> naming = EnumSet.of(ItemKind.NAME);
    Set<ItemKind> both = EnumSet.copyOf(ItemKind.usual());
    take(
        set(secondYear, "All the slides", terms.day(2026, 4, 16), naming, 40,
            "main-slide-assembly", "first-slide-assembly", "second-slide-assembly", "third-slide-assembly"),
        second, 0.9);
    take(
        set(secondYear, "A piston, from button to spring", terms.day(2026, 6, 4), naming, 20, "first-piston-assembly"),
        second, 0.85);
    take(set(secondYear, "Water keys", terms.day(2026, 10, 15), waterKeys(naming)), second, 0.92);
    take(
        set(secondYear, "All the slides, again", terms.day(2026, 11, 19), naming, Plan.LONGEST,
            "main-slide-assembly", "first-slide-assembly", "second-slide-assembly", "third-slide-assembly"),
        second, 0.97);
    take(
        set(firstYear, "The main tuning slide", terms.day(2026, 10, 22), both, 10, "main-slide-assembly"), first, 0.75);
    take(
        set(firstYear, "Third slide: upper or lower?", terms.day(2026, 12, 3), both, 12, "third-slide-assembly"),
        first.subList(8, first.size()), 0.7);
    take(
        set(secondYear, "Braces, slides and the work on them", terms.day(2026, 11, 5), EnumSet.complementOf(EnumSet.of(ItemKind.FIND)),
            30, everything()),
        second, 0.85);
    underConditions(firstYear, first, both);
    set(firstYear, "A bit of everything", terms.day(2026, 12, 10), EnumSet.allOf(ItemKind.class), 15, everything());
  }

  /** One against the clock, in which one of them has more time, one that takes no late work, and one for three of them. */
  private void underConditions(Cohort firstYear, List<Person> first, Set<ItemKind> kinds) {
    Conditions clock =
        Conditions.dueOn(terms.day(2026, 12, 1))
            .withLimit(Duration.ofMinutes(10))
            .withAttempts(2, Conditions.Counts.BEST)
            .withFeedback(Conditions.Feedback.END);
    Assignment timed =
        set(firstYear, "The first slide, against the clock", clock, Set.of(), kinds, 7, "first-slide-assembly");
    store.assignments().give(timed.id(), first.get(0).id(), new Pace(150, 0), instructor.id(), timed.setAt());
    take(timed, first.subList(4, 10), 0.75);
    Conditions closing = Conditions.dueOn(terms.day(2026, 11, 20)).withDueTime(LocalTime.of(22, 0)).withLateWork(false);
    take(
        set(firstYear, "Leadpipe, before the visit", closing, Set.of(), kinds, 5, "leadpipe-assembly"),
        first.subList(0, first.size() - 1), 0.8);
    Set<UUID> some = Set.of(DemoProgramme.id("Wren Aldous"), first.get(3).id(), first.get(6).id());
    Conditions soon = Conditions.dueOn(terms.day(2026, 12, 4));
    set(firstYear, "The second slide, for three of you", soon, some, kinds, 6, "second-slide-assembly");
  }

  private Assignment set(
      Cohort cohort, String title, Conditions conditions, Set<UUID> chosen, Set<ItemKind> kinds, int length,
      String assembly) {
    return set(cohort, title, conditions, chosen, Plan.ofAssemblies(List.of(ConceptId.of(assembly)), kinds, length, true));
  }

  private String[] everything() {
    return glossary.assemblies().stream().map(a -> a.id().value()).toArray(String[]::new);
  }

  private Plan waterKeys(Set<ItemKind> kinds) {
    List<ConceptId> parts =
        Stream.of("main-slide-water-key", "third-slide-water-key")
            .flatMap(key -> glossary.allWithin(ConceptId.of(key)).stream())
            .map(Concept::id)
            .toList();
    return Plan.ofParts(parts, kinds, true);
  }

  private Assignment set(
      Cohort cohort, String title, LocalDate due, Set<ItemKind> kinds, int length, String... assemblies) {
    List<ConceptId> scope = Stream.of(assemblies).map(ConceptId::of).toList();
    return set(cohort, title, due, Plan.ofAssemblies(scope, kinds, length, true));
  }

  private Assignment set(Cohort cohort, String title, LocalDate due, Plan plan) {
    return set(cohort, title, Conditions.dueOn(due), Set.of(), plan);
  }

  private Assignment set(Cohort cohort, String title, Conditions conditions, Set<UUID> chosen, Plan plan) {
    Instant setAt = conditions.dueOn().minusWeeks(2).atTime(EVENING).toInstant(ZoneOffset.UTC);
    Assignment assignment =
        new Assignment(
            DemoProgramme.id(cohort.title() + title), cohort.id(), chosen, instructor.id(), title,
            plan, conditions, setAt, Optional.empty());
    store.assignments().add(assignment);
    return assignment;
  }

  private void take(Assignment assignment, List<Person> apprentices, double skill) {
    for (int who = 0; who < apprentices.size(); who++) {
      Person apprentice = apprentices.get(who);
      LocalDate usual = assignment.dueOn().minusDays(3 + who % 9);
      LocalDate last = terms.lastEvening();
      LocalDate day = usual.isAfter(last) ? last.minusDays(who % 5) : usual;
      boolean there = apprentice.leftOn().filter(day::isAfter).isEmpty();
      if (there && who % 7 != 5) {
        clock.set(day.atTime(EVENING).plusMinutes(who).toInstant(ZoneOffset.UTC));
        double own = Math.min(0.98, skill + 0.08 * (who % 3) - 0.08);
        drills.start(apprentice, assignment).ifPresent(sitting -> answerAll(sitting, own));
      }
    }
  }

  private void answerAll(Sitting sitting, double skill) {
    for (Item item : sitting.items()) {
      clock.set(clock.instant().plusSeconds(8 + random.nextInt(20)));
      boolean knows = random.nextDouble() < skill;
      drills.answer(sitting, item, answer(item, knows));
    }
  }

  private Answer answer(Item item, boolean knows) {
    if (item.ordering().isPresent()) {
      return new Answer.Ordered(ordered(item.ordering().get(), knows));
    }
    if (item.choice().isPresent()) {
      return new Answer.Chosen(Optional.of(chosen(item.choice().get(), knows)));
    }
    if (item.interaction() instanceof Interaction.TextEntry entry && !entry.examples().isEmpty()) {
      return new Answer.Typed(knows ? entry.examples().get(0) : "");
    }
    return item.kind() == ItemKind.NAME ? named(item.key(), knows) : pointed(item.key(), knows);
  }

  private String chosen(Interaction.Choice choice, boolean knows) {
    return knows ? choice.key().id() : choice.options().get(random.nextInt(choice.options().size())).id();
  }

  /** An order that works, or one with two neighbours exchanged somewhere. */
  private List<String> ordered(Interaction.Ordering ordering, boolean knows) {
    List<String> steps = new ArrayList<>(ordering.work().stepIds().stream().map(StepId::value).toList());
    if (!knows) {
      int at = random.nextInt(steps.size() - 1);
      Collections.swap(steps, at, at + 1);
    }
    return steps;
  }

  private Answer pointed(ConceptId part, boolean knows) {
    return new Answer.Pointed(knows ? Optional.of(part) : lookAlike(part).map(Concept::id));
  }

  private Answer named(ConceptId part, boolean knows) {
    return new Answer.Typed(knows ? rightly(glossary.get(part)) : wrongly(part));
  }

  private String rightly(Concept part) {
    List<String> others =
        Stream.of(TermRole.ALTERNATIVE, TermRole.COLLOQUIAL).flatMap(r -> part.termsIn(r).stream()).toList();
    double how = random.nextDouble();
    if (how < 0.2 && !others.isEmpty()) {
      return others.get(random.nextInt(others.size()));
    }
    return how < 0.3 ? withASlip(part.term()) : part.term();
  }

  /** Two letters swapped in the middle of the longest word: "uppre" for "upper". */
  private static String withASlip(String term) {
    String longest = Stream.of(term.split(" ")).max((a, b) -> a.length() - b.length()).orElseThrow();
    if (longest.length() < 6) {
      return term;
    }
    int at = longest.length() / 2;
    String slipped = longest.substring(0, at) + longest.charAt(at + 1) + longest.charAt(at) + longest.substring(at + 2);
    return term.replace(longest, slipped);
  }

  private String wrongly(ConceptId part) {
    double how = random.nextDouble();
    if (how < 0.15) {
      return "";
    }
    if (how < 0.22) {
      return "slide elbow";
    }
    String term = glossary.get(part).term();
    if (how < 0.45 && term.contains(" ")) {
      return term.substring(term.indexOf(' ') + 1);
    }
    return lookAlike(part).map(Concept::term).orElse("");
  }

  /** Another part of the same kind and, if there is one, of the same assembly. */
  private Optional<Concept> lookAlike(ConceptId part) {
    Concept asked = glossary.get(part);
    List<Concept> alike =
        glossary.nameable().stream()
            .filter(c -> !c.id().equals(part) && asked.broader().isPresent() && c.broader().equals(asked.broader()))
            .toList();
    List<Concept> near = alike.stream().filter(c -> c.partOf().equals(asked.partOf())).toList();
    List<Concept> from = near.isEmpty() ? alike : near;
    return from.isEmpty() ? Optional.empty() : Optional.of(from.get(random.nextInt(from.size())));
  }
}
