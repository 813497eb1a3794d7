package ferrule.drill;

import java.util.Collection;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.function.Function;
import java.util.stream.Collectors;

/** Where people stand with assignments now, from what is kept of both. */
final class Turns {

  private final DrillStore store;
  private final Calendar calendar;

  Turns(DrillStore store, Calendar calendar) {
    this.store = store;
    this.calendar = calendar;
  }

  /** Where a person stands with an assignment. */
  Turn of(Assignment assignment, UUID person) {
    return turn(assignment, store.attempts(assignment.id(), person), pace(assignment.conditions(), assignment.id(), person));
  }

  /** Where a person stands with an assignment, from the sittings of theirs that were read before. */
  Turn of(Assignment assignment, UUID person, List<SittingSummary> sittings) {
    List<SittingSummary> attempts =
        sittings.stream().filter(s -> s.assignment().filter(assignment.id()::equals).isPresent()).toList();
    return turn(assignment, attempts, pace(assignment.conditions(), assignment.id(), person));
  }

  /** Where each of these members stands whom an assignment is for, and whoever else has begun it. */
  Map<UUID, Turn> ofEveryone(Assignment assignment, Collection<UUID> members) {
    Map<UUID, List<SittingSummary>> attempts =
        store.sittingsFor(assignment.id()).stream().collect(Collectors.groupingBy(SittingSummary::person));
    Set<UUID> everyone = new LinkedHashSet<>(attempts.keySet());
    members.stream().filter(assignment::isFor).forEach(everyone::add);
    Map<UUID, Pace> paces = store.assignments().paces(assignment.id(), List.copyOf(everyone));
    return everyone.stream()
        .collect(
            Collectors.toMap(
                Function.identity(),
                p ->
                    turn(
                        assignment, attempts.getOrDefault(p, List.of()), paces.getOrDefault(p, Pace.PLAIN))));
  }

  private Turn turn(Assignment assignment, List<SittingSummary> attempts, Pace pace) {
    return new Turn(assignment, attempts, pace, calendar.now(), calendar.zone());
  }

  // without a time limit nobody's pace matters
  private Pace pace(Conditions conditions, UUID assignment, UUID person) {
    return conditions.limit().isPresent() ? store.assignments().pace(assignment, person) : Pace.PLAIN;
  }

  /** The conditions of a sitting; empty for a self-test, which has none. */
  Optional<Conditions> conditions(Sitting sitting) {
    return sitting.assignment().flatMap(store.assignments()::conditions);
  }

  /** When a sitting closes, if it does. */
  Optional<Deadline> deadline(Sitting sitting) {
    return conditions(sitting).flatMap(c -> deadline(sitting, c));
  }

  /** When a sitting under these conditions closes, if it does. */
  Optional<Deadline> deadline(Sitting sitting, Conditions conditions) {
    Pace pace = pace(conditions, sitting.assignment().orElseThrow(), sitting.person());
    return Deadline.of(conditions, sitting.startedAt(), pace, calendar.zone());
  }

  /** Whether nothing that arrives now counts any more, answered in full or not. */
  boolean isClosed(Sitting sitting) {
    return isClosed(sitting, conditions(sitting));
  }

  /** Whether nothing that arrives now counts any more under these conditions. */
  boolean isClosed(Sitting sitting, Optional<Conditions> conditions) {
    return conditions.flatMap(c -> deadline(sitting, c)).filter(d -> d.isPast(calendar.now())).isPresent();
  }
}
