package ferrule.competency;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;

/**
 * One way to meet a requirement: what is missing on it, and what must not be undone on it.
 *
 * @param gaps what is missing
 * @param floors by task, the standing below which no further work may fall: it would undo what a rule asks of the latest
 *     work
 * @param first titles of the competencies that come first and are not complete
 */
record Way(List<Gap> gaps, Map<TaskId, Standing> floors, Set<String> first) {

  /** The way on which nothing is missing. */
  static final Way MET = new Way(List.of(), Map.of(), Set.of());

  /** Above so many ways, only the cheapest are kept. */
  static final int MOST = 2_000;

  /** An evening at the bench, by which hours are compared with sign-offs: our own convention, no source. */
  static final int EVENING = 180;

  static Way of(Gap gap) {
    return new Way(List.of(gap), Map.of(), Set.of());
  }

  /** The same way, on which no further work of this task may fall below a standing. */
  Way keeping(TaskId task, Standing standing) {
    return new Way(gaps, Map.of(task, standing), first);
  }

  /** The same way, to a competency that comes first. */
  Way to(String title) {
    if (isMet()) {
      return this;
    }
    Set<String> more = new LinkedHashSet<>(first);
    more.add(title);
    return new Way(gaps, floors, more);
  }

  /** Whether nothing is missing. */
  boolean isMet() {
    return gaps.isEmpty();
  }

  /** Whether it is met and nothing that is done elsewhere can undo it. */
  boolean isFree() {
    return gaps.isEmpty() && floors.isEmpty();
  }

  /** Both ways at once. */
  Way and(Way other) {
    if (isFree()) {
      return other;
    }
    if (other.isFree()) {
      return this;
    }
    Map<TaskId, Standing> lowest = new HashMap<>(floors);
    other.floors.forEach((task, floor) -> lowest.merge(task, floor, Way::better));
    Set<String> titles = new LinkedHashSet<>(first);
    titles.addAll(other.first);
    return new Way(merged(gaps, other.gaps), lowest, titles);
  }

  private static Standing better(Standing a, Standing b) {
    return a.isAtLeast(b) ? a : b;
  }

  private static List<Gap> merged(List<Gap> one, List<Gap> other) {
    List<Gap> all = new ArrayList<>(one);
    for (Gap gap : other) {
      int like = indexOfLike(all, gap);
      if (like < 0) {
        all.add(gap);
      } else {
        all.set(like, all.get(like).with(gap));
      }
    }
    return List.copyOf(all);
  }

  private static int indexOfLike(List<Gap> gaps, Gap gap) {
    for (int i = 0; i < gaps.size(); i++) {
      if (gaps.get(i).isLike(gap)) {
        return i;
      }
    }
    return -1;
  }

  /** What is missing as it is told: at the standing that undoes nothing, without what something else closes anyway. */
  List<Gap> told() {
    List<Gap> raised = gaps.stream()
        .map(g -> g instanceof Gap.SignOffs s ? s.atLeast(floors.getOrDefault(s.task(), s.standing())) : g).toList();
    List<Gap> told = new ArrayList<>();
    for (int i = 0; i < raised.size(); i++) {
      if (!isImplied(raised, i)) {
        told.add(raised.get(i));
      }
    }
    return told;
  }

  private static boolean isImplied(List<Gap> gaps, int index) {
    for (int i = 0; i < gaps.size(); i++) {
      if (i != index && gaps.get(i) instanceof Gap.SignOffs other && gaps.get(index) instanceof Gap.SignOffs gap
          && other.implies(gap) && (i < index || !gap.implies(other))) {
        return true;
      }
    }
    return false;
  }

  /**
   * How much would have to be done: one for each sign-off, one for each assembly whose names are to be practised, one
   * for each evening of {@value #EVENING} minutes at the bench that is begun.
   */
  int cost() {
    int cost = 0;
    for (int i = 0; i < gaps.size(); i++) {
      cost += addedBy(i);
    }
    return cost;
  }

  /** What it takes to close gaps of several lists, what closes more than one of them counted once. */
  static int costOf(List<Gap> gaps) {
    Map<TaskId, Integer> signOffs = new HashMap<>();
    Set<ConceptId> practised = new HashSet<>();
    int minutes = 0;
    for (Gap gap : gaps) {
      if (gap instanceof Gap.SignOffs s) {
        signOffs.merge(s.task(), s.more(), Math::max);
      } else if (gap instanceof Gap.Hours hours) {
        minutes = Math.max(minutes, hours.more());
      } else {
        gap.practised().ifPresent(practised::add);
      }
    }
    int works = signOffs.values().stream().mapToInt(Integer::intValue).sum();
    return works + practised.size() + (minutes + EVENING - 1) / EVENING;
  }

  // what the gap adds to those before it; ways have a handful of gaps, so that looking back is cheaper than a map
  private int addedBy(int index) {
    Gap gap = gaps.get(index);
    if (gap instanceof Gap.Hours hours) {
      return (hours.more() + EVENING - 1) / EVENING;
    }
    int before = 0;
    for (int i = 0; i < index; i++) {
      if (gap instanceof Gap.SignOffs s && gaps.get(i) instanceof Gap.SignOffs o && o.task().equals(s.task())) {
        before = Math.max(before, o.more());
      } else if (gap.practised().isPresent() && gap.practised().equals(gaps.get(i).practised())) {
        return 0;
      }
    }
    return gap instanceof Gap.SignOffs s ? Math.max(0, s.more() - before) : 1;
  }

  /** Whether this way asks for all that the other does. */
  private boolean asksAllOf(Way other) {
    for (Map.Entry<TaskId, Standing> floor : other.floors.entrySet()) {
      if (!floors.getOrDefault(floor.getKey(), Standing.NOT_YET).isAtLeast(floor.getValue())) {
        return false;
      }
    }
    for (Gap small : other.gaps) {
      int like = indexOfLike(gaps, small);
      if (like < 0 || !gaps.get(like).covers(small)) {
        return false;
      }
    }
    return true;
  }

  /** These ways, in their order, without those that ask for all that another asks for, and more. */
  static List<Way> pruned(List<Way> ways) {
    if (ways.size() < 2) {
      return ways;
    }
    List<Way> all = ways;
    if (all.size() > MOST) {
      all = all.stream().sorted(Comparator.comparingInt(Way::cost)).limit(MOST).toList();
    }
    List<Way> kept = new ArrayList<>();
    for (Way way : all) {
      if (kept.stream().noneMatch(way::asksAllOf)) {
        kept.removeIf(k -> k.asksAllOf(way));
        kept.add(way);
      }
    }
    return kept;
  }

  /** Every way of the first with every one of the second. */
  static List<Way> joined(List<Way> some, List<Way> others) {
    if (isFree(some)) {
      return others;
    }
    if (isFree(others)) {
      return some;
    }
    List<Way> joined = new ArrayList<>(some.size() * others.size());
    some.forEach(one -> others.forEach(other -> joined.add(one.and(other))));
    return pruned(joined);
  }

  /** Whether these are the one way on which nothing is missing and nothing can be undone. */
  static boolean isFree(List<Way> ways) {
    return ways.size() == 1 && ways.get(0).isFree();
  }

  /** The cheapest; of equally cheap ones the first. */
  static Way cheapest(List<Way> ways) {
    Way best = ways.get(0);
    int least = best.cost();
    for (Way way : ways.subList(1, ways.size())) {
      int cost = way.cost();
      if (cost < least) {
        best = way;
        least = cost;
      }
    }
    return best;
  }
}
