package ferrule.competency;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;

/**
 * All that speaks for one apprentice at one moment. Sign-offs are indexed by task once, and what those of a task amount
 * to is worked out once for each standing, however many rules ask for it. For one thread.
 */
public final class Evidence {

  /**
   * What sign-offs that count together amount to.
   *
   * @param works those that count, in the order of first signing
   * @param instruments on how many different instruments
   * @param instructors by how many different instructors
   */
  record Tally(List<SignedWork> works, int instruments, int instructors) {

    static Tally of(List<SignedWork> works) {
      Set<String> tags = new HashSet<>();
      Set<Object> instructors = new HashSet<>();
      for (SignedWork work : works) {
        tags.add(work.tag());
        instructors.add(work.instructor());
      }
      return new Tally(works, tags.size(), instructors.size());
    }

    int times() {
      return works.size();
    }

    boolean meets(Requirement.Signed rule) {
      return times() >= rule.times() && instruments >= rule.instruments() && instructors >= rule.instructors();
    }
  }

  private record Asked(TaskId task, Standing standing) {}

  private static final Comparator<SignedWork> IN_ORDER =
      Comparator.comparing(SignedWork::gradedAt).thenComparing(SignedWork::number);

  private final Map<TaskId, List<SignedWork>> works = new HashMap<>();
  private final Map<Asked, Tally> tallies = new HashMap<>();
  private final Function<ConceptId, PartsNamed> names;
  private final List<BenchHours> hours;
  private final List<Equivalence> granted;
  private final Map<String, Equivalence> equivalences = new HashMap<>();
  private final ZonedDateTime asOf;

  /**
   * The evidence at a moment.
   *
   * @param works that count then
   * @param names how the parts of an assembly were named
   * @param hours entries that count then
   * @param equivalences granted and not withdrawn by then
   * @param asOf the moment, in the school's zone, by whose calendar spans are reckoned
   */
  public Evidence(
      List<SignedWork> works,
      Function<ConceptId, PartsNamed> names,
      List<BenchHours> hours,
      List<Equivalence> equivalences,
      ZonedDateTime asOf) {
    works.stream().sorted(IN_ORDER).forEach(w -> this.works.computeIfAbsent(w.task(), t -> new ArrayList<>()).add(w));
    this.names = names;
    this.hours = List.copyOf(hours);
    this.asOf = asOf;
    this.granted = List.copyOf(equivalences);
    equivalences.stream()
        .filter(e -> e.until().filter(day -> day.isBefore(asOf.toLocalDate())).isEmpty())
        .forEach(e -> this.equivalences.put(e.competency(), e));
  }

  /** What of the same evidence speaks at a later moment, if nothing is recorded until then. */
  Evidence at(Instant later) {
    List<SignedWork> all = works.values().stream().flatMap(List::stream).toList();
    return new Evidence(all, names, hours, granted, later.atZone(asOf.getZone()));
  }

  /**
   * Up to when, and not at which moment, the verdicts of a programme are the same as long as nothing is recorded; empty
   * if time alone never changes them. It may be earlier than it need be, down to the moment of this evidence itself.
   */
  Optional<Instant> constantUntil(Programme programme) {
    Drift drift = new Drift(asOf);
    programme.competencies().stream().flatMap(c -> c.requires().all()).distinct().forEach(rule -> {
      if (rule instanceof Requirement.Signed signed) {
        List<SignedWork> history = history(signed);
        signed.counting().noOlder().ifPresent(span -> history.forEach(w -> drift.leaves(w.gradedAt(), span)));
        signed.counting().within().ifPresent(span -> history.forEach(w -> drift.leaves(w.gradedAt(), span)));
      } else if (rule instanceof Requirement.Hours asked) {
        asked.noOlder().ifPresent(span -> hours.forEach(h -> drift.leaves(h.day(), span)));
      }
    });
    equivalences.values().forEach(e -> e.until().ifPresent(drift::ends));
    return drift.next();
  }

  /** When work was signed last, whatever came of it, if any was. */
  Optional<Instant> lastWork() {
    return works.values().stream().map(w -> w.get(w.size() - 1).gradedAt()).max(Comparator.naturalOrder());
  }

  /** How the parts of an assembly were named. */
  PartsNamed names(ConceptId assembly) {
    return names.apply(assembly);
  }

  /** What stands in for a competency, if anything does. */
  Optional<Equivalence> equivalence(String competency) {
    return Optional.ofNullable(equivalences.get(competency));
  }

  /** The entries of time at the bench that count for a rule. */
  List<BenchHours> hours(Requirement.Hours rule) {
    Optional<LocalDate> from = rule.noOlder().map(s -> s.before(asOf.toLocalDate()));
    return hours.stream().filter(h -> from.filter(h.day()::isBefore).isEmpty()).toList();
  }

  /** The sign-offs that meet a rule, if any do. */
  Optional<Tally> meeting(Requirement.Signed rule) {
    if (rule.counting().isUnrestricted()) {
      return Optional.of(all(rule)).filter(t -> t.meets(rule));
    }
    Counting counting = rule.counting();
    List<List<SignedWork>> runs = switch (counting.order()) {
      case BEST -> List.of(all(rule).works());
      case LATEST -> List.of(lastRun(rule));
      case CONSECUTIVE -> runs(rule);
    };
    for (List<SignedWork> run : runs) {
      List<SignedWork> current = since(run, counting.noOlder());
      Optional<Tally> meeting = counting.within().map(span -> window(current, span, rule))
          .orElseGet(() -> Optional.of(Tally.of(current)).filter(t -> t.meets(rule)));
      if (meeting.isPresent()) {
        return meeting;
      }
    }
    return Optional.empty();
  }

  /** What sign-offs from now on would count together with. */
  Tally extendable(Requirement.Signed rule) {
    if (rule.counting().isUnrestricted()) {
      return all(rule);
    }
    Counting counting = rule.counting();
    return Tally.of(since(since(openRun(rule), counting.noOlder()), counting.within()));
  }

  /**
   * Where a rule is not met because of age alone, the day of the latest of those sign-offs that are too old and with
   * which it would be met.
   */
  Optional<LocalDate> lapsed(Requirement.Signed rule) {
    return rule.counting().noOlder().flatMap(span -> {
      Instant from = span.before(asOf).toInstant();
      return meeting(rule.ofAnyAge()).stream()
          .flatMap(tally -> tally.works().stream())
          .map(SignedWork::gradedAt)
          .filter(at -> at.isBefore(from))
          .max(Comparator.naturalOrder())
          .map(at -> at.atZone(asOf.getZone()).toLocalDate());
    });
  }

  private List<SignedWork> openRun(Requirement.Signed rule) {
    return rule.counting().order() == Counting.Order.BEST ? all(rule).works() : lastRun(rule);
  }

  private Tally all(Requirement.Signed rule) {
    return tallies.computeIfAbsent(
        new Asked(rule.task(), rule.standing()),
        asked -> Tally.of(
            history(rule).stream().filter(w -> w.standing().isAtLeast(asked.standing())).toList()));
  }

  private List<SignedWork> history(Requirement.Signed rule) {
    return works.getOrDefault(rule.task(), List.of());
  }

  private List<SignedWork> lastRun(Requirement.Signed rule) {
    List<SignedWork> history = history(rule);
    int from = history.size();
    while (from > 0 && history.get(from - 1).standing().isAtLeast(rule.standing())) {
      from--;
    }
    return history.subList(from, history.size());
  }

  private List<List<SignedWork>> runs(Requirement.Signed rule) {
    List<List<SignedWork>> runs = new ArrayList<>();
    List<SignedWork> history = history(rule);
    int from = 0;
    for (int i = 0; i <= history.size(); i++) {
      if (i == history.size() || !history.get(i).standing().isAtLeast(rule.standing())) {
        runs.add(history.subList(from, i));
        from = i + 1;
      }
    }
    return runs;
  }

  private List<SignedWork> since(List<SignedWork> works, Optional<Span> span) {
    if (span.isEmpty()) {
      return works;
    }
    Instant from = span.get().before(asOf).toInstant();
    return works.stream().filter(w -> !w.gradedAt().isBefore(from)).toList();
  }

  /** The first sign-offs within a span that meet the rule, if any do. */
  private Optional<Tally> window(List<SignedWork> works, Span span, Requirement.Signed rule) {
    int from = 0;
    for (int last = 0; last < works.size(); last++) {
      Instant earliest = span.before(works.get(last).gradedAt().atZone(asOf.getZone())).toInstant();
      while (works.get(from).gradedAt().isBefore(earliest)) {
        from++;
      }
      Tally tally = Tally.of(works.subList(from, last + 1));
      if (tally.meets(rule)) {
        return Optional.of(tally);
      }
    }
    return Optional.empty();
  }
}
