package ferrule.drill;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;

/**
 * How far everyone is with an assignment, as its instructor watches it.
 *
 * <p>Everything is read from the database each time, so that any node answers alike. Whoever gives no answer for
 * {@link #QUIET}, or misses {@value #MISSES} in a row, is shown as stuck, with the part where it is; after
 * {@link #GONE} they are shown as having paused.
 */
final class ProgressView {

  /** After this time without an answer somebody is stuck. */
  static final Duration QUIET = Duration.ofMinutes(3);

  /** After this time without an answer somebody has paused. */
  static final Duration GONE = Duration.ofMinutes(30);

  /** So many wrong answers in a row mean that somebody is stuck. */
  static final int MISSES = 3;

  private final PeopleStore people;
  private final DrillStore store;
  private final Turns turns;
  private final PartNames names;
  private final Calendar calendar;

  ProgressView(PeopleStore people, DrillStore store, Turns turns, PartNames names, Calendar calendar) {
    this.people = people;
    this.store = store;
    this.turns = turns;
    this.names = names;
    this.calendar = calendar;
  }

  /**
   * How far one apprentice is.
   *
   * @param attempt such as "2nd of 3"; empty where there is one only
   * @param hint where and why somebody is stuck; empty if nobody is
   * @param counted the points of the attempt that counts, in per cent; empty if none is over
   */
  record Row(
      String name,
      String state,
      String word,
      String hint,
      String attempt,
      int answered,
      int length,
      Optional<Integer> counted,
      Optional<UUID> sitting,
      String when) {}

  /** Everyone's progress, and a sentence that sums it up. */
  record Progress(List<Row> rows, String summary) {}

  Progress of(Assignment a) {
    List<Person> members = people.members(a.cohort());
    Map<UUID, Turn> standing = turns.ofEveryone(a, members.stream().map(Person::id).toList());
    List<Person> everyone = takers(a, members, standing.keySet());
    Map<UUID, DrillStore.Front> fronts =
        store.fronts(
            standing.values().stream()
                .filter(t -> t.state() == Turn.State.UNDER_WAY)
                .map(t -> t.latest().orElseThrow().id())
                .toList());
    List<Row> rows = everyone.stream().map(p -> row(p, standing.get(p.id()), fronts)).toList();
    return new Progress(rows, summary(standing.values().stream().toList(), rows));
  }

  private List<Person> takers(Assignment a, List<Person> members, Set<UUID> standing) {
    List<Person> everyone = new ArrayList<>(members.stream().filter(p -> standing.contains(p.id())).toList());
    // someone who left the cohort since keeps a place in the list if they began
    people.membersEver(a.cohort()).stream()
        .filter(p -> standing.contains(p.id()) && everyone.stream().noneMatch(e -> e.id().equals(p.id())))
        .forEach(everyone::add);
    return everyone;
  }

  private static String summary(List<Turn> turns, List<Row> rows) {
    long started = turns.stream().filter(t -> !t.attempts().isEmpty()).count();
    long under = turns.stream().filter(t -> t.state() == Turn.State.UNDER_WAY).count();
    long done = turns.stream().filter(t -> t.counted().isPresent()).count();
    long stuck = rows.stream().filter(r -> !r.hint().isEmpty()).count();
    return started + " of " + turns.size() + " have started, " + under + " under way"
        + (stuck > 0 ? " (" + stuck + " stuck)" : "") + ", " + done + " done.";
  }

  private Row row(Person p, Turn turn, Map<UUID, DrillStore.Front> fronts) {
    if (turn.latest().isEmpty()) {
      return switch (turn.state()) {
        case AHEAD -> bare(p, "", "Not open yet");
        case MISSED -> bare(p, "bad", "Not taken");
        default -> turn.assignment().conditions().isPast(turn.now(), turn.zone())
            ? bare(p, "bad", "Not taken")
            : bare(p, "", "Not started");
      };
    }
    SittingSummary shown = turn.latest().orElseThrow();
    boolean underWay = turn.state() == Turn.State.UNDER_WAY;
    Instant last = shown.lastAnswerAt().orElse(shown.startedAt());
    Duration quiet = Duration.between(last, turn.now());
    String hint = underWay && quiet.compareTo(GONE) < 0 ? hint(shown, quiet, fronts) : "";
    int of = turn.assignment().conditions().attempts();
    return new Row(
        p.fullName(),
        underWay ? hint.isEmpty() ? "open" : "bad" : shown.isDone() ? "good" : "open",
        word(turn, shown, underWay, quiet, hint),
        hint,
        of == 1 ? "" : shown.attempt() + " of " + of,
        shown.answered(),
        shown.length(),
        turn.counted().map(SittingSummary::percent),
        Optional.of(shown.id()),
        underWay ? ago(quiet) : calendar.moment(last));
  }

  private static Row bare(Person p, String state, String word) {
    return new Row(p.fullName(), state, word, "", "", 0, 0, Optional.empty(), Optional.empty(), "");
  }

  private static String word(Turn turn, SittingSummary shown, boolean underWay, Duration quiet, String hint) {
    if (underWay) {
      return !hint.isEmpty() ? "Stuck" : quiet.compareTo(GONE) < 0 ? "Under way" : "Paused";
    }
    if (!shown.isDone()) {
      return turn.deadline(shown).filter(Deadline::timeLimit).isPresent() ? "Time ran out" : "Closed";
    }
    return turn.isLate(shown) ? "Done late" : "Done";
  }

  private String hint(SittingSummary shown, Duration quiet, Map<UUID, DrillStore.Front> fronts) {
    DrillStore.Front front = fronts.get(shown.id());
    if (front == null) {
      return "";
    }
    String where = "at " + front.position() + ", " + names.term(front.part());
    if (quiet.compareTo(QUIET) >= 0) {
      return "no answer for " + ConditionsView.minutes(quiet.toMinutes()) + ", " + where;
    }
    return front.misses() >= MISSES ? front.misses() + " wrong in a row, " + where : "";
  }

  private static String ago(Duration quiet) {
    return quiet.toMinutes() < 1
        ? "just now"
        : quiet.toMinutes() < 60 ? quiet.toMinutes() + " min ago" : quiet.toHours() < 48
            ? quiet.toHours() + " h ago"
            : quiet.toDays() + " days ago";
  }
}
