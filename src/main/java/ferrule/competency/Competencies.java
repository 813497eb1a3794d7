package ferrule.competency;

import ferrule.people.Person;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Comparator;
import java.util.HashMap;
import java.util.IdentityHashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.function.Function;
import java.util.stream.Collectors;

/**
 * Evaluates programmes for apprentices from what was recorded up to an instant. Each is judged by the edition that
 * their cohort was on at that instant, or by any other edition for which it is asked.
 */
public final class Competencies {

  private static final int AT_A_TIME = 50;

  private final Programme current;
  private final EditionStore editions;
  private final EvidenceSource source;
  private final Map<String, Integer> fromNothing = new ConcurrentHashMap<>();
  private final Optional<ProgressStore> kept;

  /**
   * An evaluator over these records, which judges anew each time.
   *
   * @param current the edition in today's curriculum, by which everyone is judged who is in no cohort
   */
  public Competencies(Programme current, EditionStore editions, EvidenceSource source) {
    this(current, editions, source, Optional.empty());
  }

  /** The same, which takes what is kept where that holds. */
  public Competencies(Programme current, EditionStore editions, EvidenceSource source, ProgressStore kept) {
    this(current, editions, source, Optional.of(kept));
  }

  private Competencies(
      Programme current, EditionStore editions, EvidenceSource source, Optional<ProgressStore> kept) {
    this.current = current;
    this.editions = editions;
    this.source = source;
    this.kept = kept;
  }

  /** The edition in today's curriculum. */
  public Programme programme() {
    return current;
  }

  /** The edition that a cohort was on at an instant; today's if the text of its edition was not kept. */
  public Programme programmeOfCohort(UUID cohort, Instant at) {
    return edition(editions.editions(at).getOrDefault(cohort, current.edition()));
  }

  /** The edition that an apprentice was judged by at an instant. */
  public Programme programmeOf(UUID apprentice, Instant at) {
    return programmesOf(List.of(apprentice), at).get(apprentice);
  }

  /** The stay in a cohort by which an apprentice is judged on a day; empty if they never were in any. */
  public Optional<Stay> stay(UUID apprentice, LocalDate day) {
    return Optional.ofNullable(editions.stays(List.of(apprentice), day).get(apprentice));
  }

  /** The edition that each of these apprentices was judged by at an instant. */
  Map<UUID, Programme> programmesOf(Collection<UUID> apprentices, Instant at) {
    Map<UUID, Stay> stays = editions.stays(apprentices, LocalDate.ofInstant(at, source.zone()));
    Map<UUID, String> pinned = editions.editions(at);
    Map<UUID, Programme> programmes = new LinkedHashMap<>();
    for (UUID apprentice : apprentices) {
      Stay stay = stays.get(apprentice);
      programmes.put(apprentice, stay == null ? current : edition(pinned.get(stay.cohort())));
    }
    return programmes;
  }

  private Programme edition(String edition) {
    return find(edition).orElse(current);
  }

  /** How one apprentice stood at an instant. */
  public Progress of(UUID apprentice, Instant asOf) {
    return of(List.of(apprentice), asOf).get(apprentice);
  }

  /** How each of these apprentices stood at an instant, in their order. */
  public Map<UUID, Progress> of(Collection<UUID> apprentices, Instant asOf) {
    return of(apprentices, asOf, programmesOf(apprentices, asOf)::get);
  }

  /** How each of these apprentices stood at an instant, judged by this edition, in their order. */
  public Map<UUID, Progress> of(Collection<UUID> apprentices, Instant asOf, Programme edition) {
    return of(apprentices, asOf, who -> edition);
  }

  private Map<UUID, Progress> of(
      Collection<UUID> apprentices, Instant asOf, Function<UUID, Programme> programmes) {
    Map<UUID, Progress> found = new HashMap<>();
    kept.ifPresent(store -> apprentices.stream()
        .collect(Collectors.groupingBy(programmes, IdentityHashMap::new, Collectors.toList()))
        .forEach((programme, people) -> found.putAll(store.holding(people, programme, asOf))));
    List<UUID> rest = apprentices.stream().filter(who -> !found.containsKey(who)).toList();
    if (!rest.isEmpty()) {
      source.of(rest, asOf)
          .forEach((who, evidence) -> found.put(who, Progress.of(programmes.apply(who), evidence, asOf)));
    }
    Map<UUID, Progress> inOrder = new LinkedHashMap<>();
    apprentices.forEach(who -> inOrder.put(who, found.get(who)));
    return inOrder;
  }

  /**
   * The members of several cohorts in the least that counting needs.
   *
   * @param programmes by cohort: the edition that its members are judged by
   * @param states by cohort and apprentice; empty while some are waiting
   * @param waiting how many are to be judged anew, where those are too many to be judged while somebody waits for a page
   */
  public record Counted(Map<UUID, Programme> programmes, Map<UUID, Map<UUID, States>> states, int waiting) {}

  /**
   * How the members of these cohorts stood at an instant, each judged by the edition that their cohort was on, in the
   * least that counting needs.
   *
   * @param members apprentices by cohort
   * @param most how many are judged anew at most, if what is kept of them does not hold
   */
  public Counted counted(Map<UUID, List<UUID>> members, Instant asOf, int most) {
    Map<UUID, ProgressStore.Kept> holding = kept.map(store -> store.statesHolding(asOf)).orElse(Map.of());
    Map<UUID, String> pinned = editions.editions(asOf);
    Map<UUID, Programme> programmes = new HashMap<>();
    Map<UUID, Map<UUID, States>> states = new HashMap<>();
    Map<UUID, List<UUID>> rest = new HashMap<>();
    members.forEach((cohort, people) -> {
      Programme programme = edition(pinned.getOrDefault(cohort, current.edition()));
      programmes.put(cohort, programme);
      Map<UUID, States> found = new HashMap<>();
      for (UUID who : people) {
        ProgressStore.Kept theirs = holding.get(who);
        if (theirs != null && theirs.edition().equals(programme.edition())) {
          found.put(who, theirs.states());
        } else {
          rest.computeIfAbsent(cohort, c -> new ArrayList<>()).add(who);
        }
      }
      states.put(cohort, found);
    });
    int waiting = rest.values().stream().mapToInt(List::size).sum();
    if (waiting > most) {
      return new Counted(programmes, Map.of(), waiting);
    }
    rest.forEach((cohort, people) -> states.get(cohort).putAll(judgedAnew(people, programmes.get(cohort), asOf)));
    return new Counted(programmes, states, 0);
  }

  private Map<UUID, States> judgedAnew(List<UUID> people, Programme programme, Instant asOf) {
    Map<UUID, States> states = new HashMap<>();
    // not all of a large cohort's records are held in memory
    for (int from = 0; from < people.size(); from += AT_A_TIME) {
      source.lasting(people.subList(from, Math.min(people.size(), from + AT_A_TIME)), asOf)
          .forEach((who, evidence) -> states.put(
              who,
              States.of(
                  Progress.of(programme, evidence.apply(asOf), asOf),
                  Evaluation.of(programme, evidence.apply(asOf.plus(ProgressKeeper.AHEAD))).values())));
    }
    return states;
  }

  /** The course of somebody who stands so, who began on one day and is looked at on another. */
  public Course course(Progress progress, LocalDate since, LocalDate day) {
    return Course.of(progress, stepsAtStart(progress), since, day);
  }

  private int stepsAtStart(Progress progress) {
    List<Equivalence> granted =
        progress.verdicts().values().stream().flatMap(v -> v.equivalence().stream()).toList();
    return granted.isEmpty()
        ? fromNothing.computeIfAbsent(progress.programme().edition(), e -> stepsAtStart(progress, List.of()))
        : stepsAtStart(progress, granted);
  }

  private int stepsAtStart(Progress progress, List<Equivalence> granted) {
    Instant at = progress.asOf();
    return Progress.of(progress.programme(), source.nothingBut(granted, at), at).stepsLeft();
  }

  /**
   * What these apprentices have complete at an instant and will have to show again within so many days if nothing is done,
   * judged by this edition; the first to lapse first.
   */
  public List<Lapse> lapses(Collection<UUID> apprentices, Instant asOf, int days, Programme edition) {
    LocalDate today = LocalDate.ofInstant(asOf, source.zone());
    List<Lapse> lapses = new ArrayList<>();
    source.lasting(apprentices, asOf).forEach((who, evidence) ->
        lapses.addAll(Lapse.of(who, edition, day -> evidence.apply(
            day.equals(today) ? asOf : AsOf.endOf(day, source.zone())), today, days)));
    lapses.sort(Comparator.comparing(Lapse::day).thenComparing(Lapse::competency).thenComparing(Lapse::apprentice));
    return lapses;
  }

  /** What another edition would change for these apprentices of a cohort at an instant. */
  public EditionChange change(UUID cohort, List<Person> apprentices, Programme to, Instant at) {
    Programme from = programmeOfCohort(cohort, at);
    Map<UUID, Progress> before = new LinkedHashMap<>();
    Map<UUID, Progress> after = new LinkedHashMap<>();
    source.of(apprentices.stream().map(Person::id).toList(), at).forEach((who, evidence) -> {
      before.put(who, Progress.of(from, evidence, at));
      after.put(who, Progress.of(to, evidence, at));
    });
    return EditionChange.of(from, to, apprentices, before, after);
  }

  /** The edition of this name: today's, or one that was kept. */
  public Optional<Programme> find(String edition) {
    return edition.equals(current.edition()) ? Optional.of(current) : editions.find(edition);
  }

  /** The edition that each cohort is on at an instant, by cohort. */
  public Map<UUID, String> editionsOfCohorts(Instant at) {
    return editions.editions(at);
  }
}
