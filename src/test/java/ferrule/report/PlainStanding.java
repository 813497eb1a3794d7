package ferrule.report;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.competency.Competency;
import ferrule.competency.Counting;
import ferrule.competency.Programme;
import ferrule.competency.Requirement;
import ferrule.competency.Span;
import ferrule.drill.ItemKind;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.time.LocalDate;
import java.time.ZonedDateTime;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeSet;
import java.util.UUID;

/**
 * How one apprentice stood at an instant by a programme, worked out from {@linkplain RawRecords plain facts} as the rules
 * are written: every choice of sign-offs is tried, everything is looked up by going through all of it.
 */
final class PlainStanding {

  /** A piece of work that counts. */
  record Work(UUID record, TaskId task, String tag, UUID instructor, Instant at, long number, Standing standing) {}

  /** Named right, asked at all, and how many there are. */
  record Named(int right, int asked, int of) {}

  private static final double Z = 1.959963984540054;

  private final Programme programme;
  private final ZonedDateTime at;
  private final List<Work> works = new ArrayList<>();
  private final Map<ConceptId, Named> named = new HashMap<>();
  private final List<RawRecords.Hours> hours = new ArrayList<>();
  private final Set<String> granted = new HashSet<>();
  private final PlainWays ways;
  private final Map<Requirement.Signed, Boolean> held = new HashMap<>();
  private int added;

  /** How somebody stood, from what had been recorded by one instant, as seen at the same or a later one. */
  PlainStanding(RawRecords raw, UUID apprentice, Programme programme, Instant recorded, Instant seen) {
    this.programme = programme;
    ways = new PlainWays(programme, this);
    at = seen.atZone(RandomHistory.ZONE);
    gatherWorks(raw, apprentice, recorded);
    for (ConceptId assembly : RandomHistory.ASSEMBLIES) {
      named.put(assembly, named(raw, apprentice, assembly, recorded));
    }
    for (RawRecords.Hours entry : raw.hours) {
      boolean corrected = raw.hours.stream()
          .anyMatch(c -> c.corrects().filter(entry.entry()::equals).isPresent() && !c.at().isAfter(recorded));
      if (entry.apprentice().equals(apprentice) && !entry.at().isAfter(recorded) && !corrected) {
        hours.add(entry);
      }
    }
    for (RawRecords.Granted grant : raw.granted) {
      boolean withdrawn = raw.grantsWithdrawn.stream()
          .anyMatch(w -> w.grant().equals(grant.grant()) && !w.at().isAfter(recorded));
      boolean over = grant.until().filter(day -> day.isBefore(at.toLocalDate())).isPresent();
      if (grant.apprentice().equals(apprentice) && !grant.at().isAfter(recorded) && !withdrawn && !over) {
        granted.add(grant.competency());
      }
    }
  }

  private void gatherWorks(RawRecords raw, UUID apprentice, Instant recorded) {
    for (RawRecords.Signed signed : raw.signed) {
      boolean counts = signed.grade().apprentice().equals(apprentice) && !signed.at().isAfter(recorded)
          && raw.stands(signed.record(), recorded)
          && (!signed.grade().secondSignature() || raw.isSeconded(signed.record(), recorded));
      if (counts) {
        RawRecords.Signed first = raw.firstOf(signed);
        works.add(new Work(
            signed.record(), signed.grade().task(), signed.grade().tag(), first.by(), first.at(), signed.number(),
            signed.grade().outcome().standing()));
      }
    }
    works.sort(Comparator.comparing(Work::at).thenComparing(Work::number));
  }

  private static Named named(RawRecords raw, UUID apprentice, ConceptId assembly, Instant recorded) {
    int right = 0;
    int asked = 0;
    Set<ConceptId> parts = RandomHistory.partsOf(assembly);
    for (ConceptId part : parts) {
      RawRecords.Answered last = null;
      for (RawRecords.Answered answer : raw.answered) {
        if (answer.person().equals(apprentice) && answer.part().equals(part) && answer.kind() == ItemKind.NAME
            && !answer.at().isAfter(recorded)) {
          last = answer;
        }
      }
      asked += last == null ? 0 : 1;
      right += last != null && raw.credit(last, recorded) >= 1 ? 1 : 0;
    }
    return new Named(right, asked, parts.size());
  }

  // -- what is asked

  /** The ids of what is complete. */
  Set<String> complete() {
    Set<String> complete = new TreeSet<>();
    programme.competencies().stream().filter(c -> isComplete(c.id())).forEach(c -> complete.add(c.id()));
    return complete;
  }

  boolean isComplete(String competency) {
    return granted.contains(competency) || holds(programme.find(competency).orElseThrow().requires());
  }

  /** What is told to be missing of a competency. */
  PlainWays.Told told(Competency competency) {
    return ways.told(competency);
  }

  /** Whether nothing but the age of sign-offs is in the way that is told. */
  boolean isLapsed(Competency competency) {
    return told(competency).isLapsed();
  }

  /** The sign-offs that are shown to speak for a competency, each once. */
  Set<Work> speaking(Competency competency) {
    Set<Work> speaking = new LinkedHashSet<>();
    competency.requires().all().forEach(rule -> {
      if (rule instanceof Requirement.Signed s) {
        speaking.addAll(holds(s) ? meeting(s, false) : goingOn(s));
      }
    });
    return speaking;
  }

  /** Whether anything speaks for a competency by itself, those that come first aside. */
  boolean isBegun(Competency competency) {
    return competency.requires().all().anyMatch(this::speaks);
  }

  private boolean speaks(Requirement rule) {
    if (rule instanceof Requirement.Names n) {
      return named.get(n.assembly()).right() > 0;
    }
    if (rule instanceof Requirement.Known k) {
      return named.get(k.scope()).right() > 0;
    }
    if (rule instanceof Requirement.Hours h) {
      return minutes(h) > 0;
    }
    return rule instanceof Requirement.Signed s && (holds(s) || canGoOn(s));
  }

  /** Whether some sign-off would count together with one made now. */
  private boolean canGoOn(Requirement.Signed rule) {
    return !goingOn(rule).isEmpty();
  }

  /** The sign-offs that would count together with one made now. */
  List<Work> goingOn(Requirement.Signed rule) {
    List<Work> history = history(rule);
    List<Work> goingOn = new ArrayList<>();
    for (int i = 0; i < history.size(); i++) {
      boolean unbroken = rule.counting().order() == Counting.Order.BEST
          ? fits(history.get(i), rule)
          : history.subList(i, history.size()).stream().allMatch(w -> fits(w, rule));
      Work work = history.get(i);
      if (unbroken && isSince(work, rule.counting().noOlder()) && isSince(work, rule.counting().within())) {
        goingOn.add(work);
      }
    }
    return goingOn;
  }

  /** Of the choices of sign-offs that do all that a rule asks, the one that ends first, with all that belongs to it. */
  List<Work> meeting(Requirement.Signed rule, boolean ageless) {
    List<Work> history = history(rule);
    for (int last = 0; last < history.size(); last++) {
      for (int first = 0; first <= last; first++) {
        int choice = 0;
        for (int i = first; i <= last; i++) {
          boolean counts = fits(history.get(i), rule) && (ageless || isSince(history.get(i), rule.counting().noOlder()));
          choice |= counts ? 1 << i : 0;
        }
        if ((choice >> first & 1) == 1 && (choice >> last & 1) == 1 && does(rule, history, choice, ageless)) {
          return rule.counting().within().isPresent() ? chosen(history, choice) : toItsEnd(rule, history, first, ageless);
        }
      }
    }
    return List.of();
  }

  private static List<Work> chosen(List<Work> history, int choice) {
    List<Work> chosen = new ArrayList<>();
    for (int i = 0; i < history.size(); i++) {
      if ((choice >> i & 1) == 1) {
        chosen.add(history.get(i));
      }
    }
    return chosen;
  }

  /** Without a span of time, whatever is good enough goes on to count, in a row up to what falls short. */
  private List<Work> toItsEnd(Requirement.Signed rule, List<Work> history, int first, boolean ageless) {
    List<Work> all = new ArrayList<>();
    for (Work work : history.subList(first, history.size())) {
      if (!fits(work, rule) && rule.counting().order() != Counting.Order.BEST) {
        return all;
      }
      if (fits(work, rule) && (ageless || isSince(work, rule.counting().noOlder()))) {
        all.add(work);
      }
    }
    return all;
  }

  /** How an assembly's parts were named. */
  Named named(ConceptId assembly) {
    return named.get(assembly);
  }

  /** Whether prior learning stands in for a competency. */
  boolean isGranted(String competency) {
    return granted.contains(competency);
  }

  /** When work was signed last that counts. */
  Optional<Instant> lastWork() {
    return works.stream().map(Work::at).max(Comparator.naturalOrder());
  }

  /** How many sign-offs that count. */
  List<Work> works() {
    return works;
  }

  // -- the rules as they are written

  /** Whether a rule is fulfilled. */
  boolean holds(Requirement rule) {
    if (rule instanceof Requirement.AllOf all) {
      return all.parts().stream().allMatch(this::holds);
    }
    if (rule instanceof Requirement.AtLeast some) {
      return some.parts().stream().filter(this::holds).count() >= some.count();
    }
    if (rule instanceof Requirement.Names n) {
      Named now = named.get(n.assembly());
      return now.right() * 100 >= n.percent() * now.of();
    }
    if (rule instanceof Requirement.Known k) {
      Named now = named.get(k.scope());
      return now.right() == now.of() || sure(now.right(), now.asked()) * 100 >= k.percent();
    }
    if (rule instanceof Requirement.Hours h) {
      return minutes(h) >= 60 * h.hours();
    }
    return rule instanceof Requirement.Holds h ? isComplete(h.competency())
        : holds((Requirement.Signed) rule);
  }

  /** The lower limit of Wilson's interval, written out. */
  static double sure(int right, int asked) {
    if (asked == 0) {
      return 0;
    }
    double n = asked;
    double p = right / n;
    return (p + Z * Z / (2 * n) - Z * Math.sqrt(p * (1 - p) / n + Z * Z / (4 * n * n))) / (1 + Z * Z / n);
  }

  /** Minutes at the bench that count for a rule. */
  int minutes(Requirement.Hours rule) {
    LocalDate from = rule.noOlder().map(s -> at.toLocalDate().minus(s.count(), s.unit())).orElse(LocalDate.MIN);
    return hours.stream().filter(h -> !h.day().isBefore(from)).mapToInt(RawRecords.Hours::minutes).sum();
  }

  private List<Work> history(Requirement.Signed rule) {
    return works.stream().filter(w -> w.task().equals(rule.task())).toList();
  }

  private static boolean fits(Work work, Requirement.Signed rule) {
    return work.standing().compareTo(rule.standing()) >= 0;
  }

  private boolean isSince(Work work, Optional<Span> span) {
    return span.isEmpty() || !work.at().isBefore(at.minus(span.get().count(), span.get().unit()).toInstant());
  }

  /** Whether a sign-off is not older than a rule allows. */
  boolean isYoungEnough(Work work, Requirement.Signed rule) {
    return isSince(work, rule.counting().noOlder());
  }

  private boolean holds(Requirement.Signed rule) {
    return held.computeIfAbsent(rule, this::isHeld);
  }

  /** Some choice of the task's sign-offs does all that the rule asks. */
  private boolean isHeld(Requirement.Signed rule) {
    List<Work> history = history(rule);
    for (int choice = 1; choice < 1 << history.size(); choice++) {
      if (does(rule, history, choice, false)) {
        return true;
      }
    }
    return false;
  }

  private boolean does(Requirement.Signed rule, List<Work> history, int choice, boolean ageless) {
    if (Integer.bitCount(choice) < rule.times()) {
      return false;
    }
    int first = Integer.numberOfTrailingZeros(choice);
    int last = 31 - Integer.numberOfLeadingZeros(choice);
    Set<String> tags = new HashSet<>();
    Set<UUID> instructors = new HashSet<>();
    for (int i = first; i <= last; i++) {
      if ((choice >> i & 1) == 1) {
        Work work = history.get(i);
        tags.add(work.tag());
        instructors.add(work.instructor());
        if (!fits(work, rule) || (!ageless && !isSince(work, rule.counting().noOlder()))) {
          return false;
        }
      }
    }
    int through = switch (rule.counting().order()) {
      case BEST -> first;
      case CONSECUTIVE -> last;
      case LATEST -> history.size() - 1;
    };
    boolean unbroken = history.subList(first, through + 1).stream().allMatch(w -> fits(w, rule));
    ZonedDateTime end = history.get(last).at().atZone(RandomHistory.ZONE);
    boolean together = rule.counting().within()
        .filter(s -> history.get(first).at().isBefore(end.minus(s.count(), s.unit()).toInstant())).isEmpty();
    return unbroken && together && tags.size() >= rule.instruments() && instructors.size() >= rule.instructors();
  }

  // -- what it would take

  /**
   * The fewest steps that would complete a competency, by trying all: fine work on another instrument before another
   * instructor, all names of an assembly, an evening at the bench.
   *
   * @return so many, or one more than {@code most} if that many do not
   */
  int fewestSteps(String competency, int most) {
    for (int steps = 0; steps <= most; steps++) {
      if (canBeDone(competency, steps, 0)) {
        return steps;
      }
    }
    return most + 1;
  }

  private boolean canBeDone(String competency, int steps, int from) {
    if (steps == 0) {
      return isComplete(competency);
    }
    int tasks = RandomHistory.WORK.size();
    for (int action = from; action <= tasks + RandomHistory.ASSEMBLIES.size(); action++) {
      if (action < tasks) {
        works.add(new Work(
            UUID.randomUUID(), RandomHistory.WORK.get(action), "new-" + added, new UUID(9, added), at.toInstant(),
            Long.MAX_VALUE - 1_000 + added++, Standing.FINE));
        held.clear();
        boolean does = canBeDone(competency, steps - 1, action);
        works.remove(works.size() - 1);
        held.clear();
        if (does) {
          return true;
        }
      } else if (action < tasks + RandomHistory.ASSEMBLIES.size()) {
        ConceptId assembly = RandomHistory.ASSEMBLIES.get(action - tasks);
        Named before = named.put(assembly, all(named.get(assembly).of()));
        boolean does = canBeDone(competency, steps - 1, action + 1);
        named.put(assembly, before);
        if (does) {
          return true;
        }
      } else {
        hours.add(new RawRecords.Hours(
            UUID.randomUUID(), UUID.randomUUID(), at.toLocalDate(), 180, Optional.empty(), UUID.randomUUID(),
            at.toInstant()));
        boolean does = canBeDone(competency, steps - 1, action);
        hours.remove(hours.size() - 1);
        if (does) {
          return true;
        }
      }
    }
    return false;
  }

  private static Named all(int of) {
    return new Named(of, of, of);
  }
}
