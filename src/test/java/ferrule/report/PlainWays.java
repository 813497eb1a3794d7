package ferrule.report;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.competency.Competency;
import ferrule.competency.Counting;
import ferrule.competency.Programme;
import ferrule.competency.Requirement;
import ferrule.glossary.ConceptId;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * What somebody is told to be missing of each competency, worked out by writing down every way to complete it: a way is
 * the set of single rules that are still to be fulfilled. The shortest is told; of several, the one that comes first in
 * the programme, unless another asks for less of the same.
 */
final class PlainWays {

  /** The rules of a way, and the titles of the competencies that come first on it. */
  private record Way(Set<Requirement> rules, Set<String> first) {

    static final Way DONE = new Way(Set.of(), Set.of());

    Way and(Way other) {
      Set<Requirement> both = new LinkedHashSet<>(rules);
      both.addAll(other.rules);
      Set<String> titles = new LinkedHashSet<>(first);
      titles.addAll(other.first);
      return new Way(both, titles);
    }
  }

  /** What is told of a competency: what is missing, and which competencies come first. */
  record Told(List<PlainGap> missing, List<String> first) {

    /** Whether nothing but the age of sign-offs is in the way that is told. */
    boolean isLapsed() {
      return !missing.isEmpty() && missing.stream().allMatch(g -> g instanceof PlainGap.SignOffs s && s.tooOld().isPresent());
    }

    /** How many steps it takes. */
    int steps() {
      return PlainWays.steps(missing);
    }

    /** All of it in one sentence; empty if nothing is missing. */
    String sentence() {
      return missing.isEmpty() ? ""
          : "Missing: " + String.join("; and ", missing.stream().map(PlainGap::words).toList()) + ". " + hint();
    }

    /** What else is said. */
    String hint() {
      List<TaskId> tasks = missing.stream().filter(PlainGap.SignOffs.class::isInstance)
          .map(g -> ((PlainGap.SignOffs) g).task()).toList();
      String shared = new HashSet<>(tasks).size() < tasks.size() ? "One sign-off can serve for both." : "";
      String order = first.isEmpty() ? ""
          : "“" + String.join("” and “", first) + "” come" + (first.size() == 1 ? "s" : "") + " first.";
      return (shared + " " + order).strip();
    }
  }

  private final Programme programme;
  private final PlainStanding standing;
  private final Map<Requirement, Boolean> open = new HashMap<>();
  private final Map<String, Told> told = new HashMap<>();

  PlainWays(Programme programme, PlainStanding standing) {
    this.programme = programme;
    this.standing = standing;
  }

  /** The steps of all competencies together, what serves for several counted once. */
  int stepsLeft() {
    return steps(programme.competencies().stream().flatMap(c -> told(c).missing().stream()).toList());
  }

  /** Each task as often as it is asked most, each assembly once, and so many evenings of three hours. */
  static int steps(Collection<PlainGap> gaps) {
    Map<TaskId, Integer> works = new HashMap<>();
    Set<ConceptId> assemblies = new HashSet<>();
    int minutes = 0;
    for (PlainGap gap : gaps) {
      if (gap instanceof PlainGap.SignOffs s) {
        works.merge(s.task(), s.more(), Math::max);
      } else if (gap instanceof PlainGap.Names n) {
        assemblies.add(n.assembly());
      } else {
        minutes = Math.max(minutes, gap.more());
      }
    }
    return works.values().stream().mapToInt(n -> n).sum() + assemblies.size() + (int) Math.ceil(minutes / 180.0);
  }

  /** What is told of a competency. */
  Told told(Competency competency) {
    return told.computeIfAbsent(competency.id(), id -> find(competency));
  }

  private Told find(Competency competency) {
    if (standing.isComplete(competency.id())) {
      return new Told(List.of(), List.of());
    }
    Way shortest = null;
    List<PlainGap> missing = List.of();
    for (Way way : ways(competency.requires())) {
      List<PlainGap> gaps = gaps(way);
      if (shortest == null || steps(gaps) < steps(missing) || (steps(gaps) == steps(missing) && asksLess(gaps, missing))) {
        shortest = way;
        missing = gaps;
      }
    }
    return new Told(withoutWhatFollows(raised(shortest, missing)), List.copyOf(shortest.first()));
  }

  private static boolean asksLess(List<PlainGap> gaps, List<PlainGap> than) {
    return covers(than, gaps) && !covers(gaps, than);
  }

  private static boolean covers(List<PlainGap> large, List<PlainGap> small) {
    return small.stream().allMatch(s -> large.stream().anyMatch(l -> l.sort().equals(s.sort()) && covers(l, s)));
  }

  private static boolean covers(PlainGap large, PlainGap small) {
    return large.more() >= small.more() && (!(large instanceof PlainGap.SignOffs l && small instanceof PlainGap.SignOffs s)
        || (l.tags() >= s.tags() && l.instructors() >= s.instructors()));
  }

  // -- every way

  private List<Way> ways(Requirement rule) {
    if (rule instanceof Requirement.AllOf all) {
      return together(all.parts().stream().map(this::ways).toList());
    }
    if (rule instanceof Requirement.AtLeast some) {
      List<List<Way>> open = some.parts().stream().map(this::ways).filter(ways -> !isDone(ways)).toList();
      int still = some.count() - (some.parts().size() - open.size());
      return still <= 0 ? List.of(Way.DONE) : withoutDetours(chosen(still, open, 0));
    }
    if (rule instanceof Requirement.Holds holds) {
      return standing.isGranted(holds.competency()) ? List.of(Way.DONE)
          : ways(programme.find(holds.competency()).orElseThrow().requires()).stream().map(w -> to(holds, w)).toList();
    }
    return isOpen(rule) || isOfTheLatest(rule)
        ? List.of(new Way(new LinkedHashSet<>(List.of(rule)), Set.of())) : List.of(Way.DONE);
  }

  private boolean isOpen(Requirement rule) {
    return open.computeIfAbsent(rule, r -> !standing.holds(r));
  }

  /** What is fulfilled by the latest work can be undone by further work that is worse. */
  private static boolean isOfTheLatest(Requirement rule) {
    return rule instanceof Requirement.Signed s && s.counting().order() == Counting.Order.LATEST;
  }

  private Way to(Requirement.Holds holds, Way way) {
    if (way.rules().stream().noneMatch(this::isOpen)) {
      return way;
    }
    Set<String> first = new LinkedHashSet<>(way.first());
    first.add(holds.title());
    return new Way(way.rules(), first);
  }

  private static boolean isDone(List<Way> ways) {
    return ways.size() == 1 && ways.get(0).rules().isEmpty();
  }

  private static List<Way> together(List<List<Way>> parts) {
    List<Way> ways = List.of(Way.DONE);
    for (List<Way> part : parts) {
      List<Way> longer = new ArrayList<>();
      ways.forEach(one -> part.forEach(other -> longer.add(one.and(other))));
      ways = withoutDetours(longer);
    }
    return ways;
  }

  private static List<Way> chosen(int count, List<List<Way>> parts, int from) {
    if (count == 0) {
      return List.of(Way.DONE);
    }
    List<Way> chosen = new ArrayList<>();
    for (int i = from; i <= parts.size() - count; i++) {
      chosen.addAll(together(List.of(parts.get(i), withoutDetours(chosen(count - 1, parts, i + 1)))));
    }
    return chosen;
  }

  /** Those ways that do not ask for all that another asks, and more. */
  private static List<Way> withoutDetours(List<Way> ways) {
    Map<Set<Requirement>, Way> different = new LinkedHashMap<>();
    ways.forEach(w -> different.putIfAbsent(w.rules(), w));
    return different.values().stream()
        .filter(w -> different.keySet().stream().noneMatch(o -> o.size() < w.rules().size() && w.rules().containsAll(o)))
        .toList();
  }

  // -- what is missing on a way

  private List<PlainGap> gaps(Way way) {
    Map<List<Object>, PlainGap> gaps = new LinkedHashMap<>();
    way.rules().stream().filter(this::isOpen).map(this::gap).forEach(gap -> gaps.merge(gap.sort(), gap, PlainWays::both));
    return List.copyOf(gaps.values());
  }

  private static PlainGap both(PlainGap one, PlainGap other) {
    return one instanceof PlainGap.SignOffs s ? s.and((PlainGap.SignOffs) other) : other.more() > one.more() ? other : one;
  }

  private PlainGap gap(Requirement rule) {
    if (rule instanceof Requirement.Signed signed) {
      return gap(signed);
    }
    if (rule instanceof Requirement.Hours hours) {
      return new PlainGap.Hours(hours, standing.minutes(hours), 60 * hours.hours() - standing.minutes(hours));
    }
    return rule instanceof Requirement.Names names ? gap(names) : gap((Requirement.Known) rule);
  }

  private PlainGap gap(Requirement.Names rule) {
    PlainStanding.Named now = standing.named(rule.assembly());
    int needed = 0;
    while (needed * 100 < rule.percent() * now.of()) {
      needed++;
    }
    return new PlainGap.Names(
        rule.assembly(), "names", rule.term(), now.right(), needed - now.right(),
        " (" + now.right() + " of " + now.of() + " right by now, " + needed + " needed)");
  }

  /** A part that was named wrong is put right before another one is asked for. */
  private PlainGap gap(Requirement.Known rule) {
    PlainStanding.Named now = standing.named(rule.scope());
    int more = 1;
    while (now.right() + more < now.of()
        && PlainStanding.sure(now.right() + more, Math.max(now.asked(), now.right() + more)) * 100 < rule.percent()) {
      more++;
    }
    String so = now.asked() == 0 ? "none was asked for yet"
        : now.right() + " of " + now.asked() + " asked were right, which makes "
            + (int) (100 * PlainStanding.sure(now.right(), now.asked()) + 1e-9) + " % sure";
    return new PlainGap.Names(
        rule.scope(), "known", rule.term(), now.right(), more,
        ", so that " + rule.percent() + " % are sure to be known (" + so + ")");
  }

  private PlainGap gap(Requirement.Signed rule) {
    List<PlainStanding.Work> goingOn = standing.goingOn(rule);
    int tags = (int) goingOn.stream().map(PlainStanding.Work::tag).distinct().count();
    int instructors = (int) goingOn.stream().map(PlainStanding.Work::instructor).distinct().count();
    int newTags = Math.max(0, rule.instruments() - tags);
    int newInstructors = Math.max(0, rule.instructors() - instructors);
    int more = Math.max(rule.times() - goingOn.size(), Math.max(newTags, newInstructors));
    return new PlainGap.SignOffs(
        rule, rule.standing(), goingOn.size(), more, newTags, tags, newInstructors, instructors, tooOld(rule));
  }

  private Optional<LocalDate> tooOld(Requirement.Signed rule) {
    Optional<LocalDate> last = Optional.empty();
    for (PlainStanding.Work work : standing.meeting(rule, true)) {
      if (!standing.isYoungEnough(work, rule)) {
        last = Optional.of(LocalDate.ofInstant(work.at(), RandomHistory.ZONE));
      }
    }
    return last;
  }

  /** Further work of a task is to stand as high as a rule of its latest work asks. */
  private List<PlainGap> raised(Way way, List<PlainGap> gaps) {
    Map<TaskId, Standing> lowest = new HashMap<>();
    for (Requirement rule : way.rules()) {
      if (rule instanceof Requirement.Signed s && s.counting().order() != Counting.Order.BEST) {
        lowest.merge(s.task(), s.standing(), (a, b) -> a.compareTo(b) > 0 ? a : b);
      }
    }
    return gaps.stream().<PlainGap>map(g ->
        g instanceof PlainGap.SignOffs s ? s.atLeast(lowest.getOrDefault(s.task(), s.at())) : g).toList();
  }

  /** Without sign-offs that the others of the same task make up for. */
  private static List<PlainGap> withoutWhatFollows(List<PlainGap> gaps) {
    List<PlainGap> left = new ArrayList<>();
    for (int i = 0; i < gaps.size(); i++) {
      boolean follows = false;
      for (int o = 0; o < gaps.size(); o++) {
        follows |= o != i && follows(gaps.get(i), gaps.get(o)) && (o < i || !follows(gaps.get(o), gaps.get(i)));
      }
      if (!follows) {
        left.add(gaps.get(i));
      }
    }
    return left;
  }

  private static boolean follows(PlainGap gap, PlainGap from) {
    if (!(gap instanceof PlainGap.SignOffs g && from instanceof PlainGap.SignOffs f) || !g.task().equals(f.task())
        || f.at().compareTo(g.at()) < 0 || f.more() < g.more()) {
      return false;
    }
    boolean anything = g.tags() == 0 && g.instructors() == 0;
    boolean countsAsMuch = f.rule().counting().equals(Counting.ALL) && f.rule().standing() == g.rule().standing();
    return anything || (countsAsMuch && f.tags() >= g.tags() && f.instructors() >= g.instructors());
  }
}
