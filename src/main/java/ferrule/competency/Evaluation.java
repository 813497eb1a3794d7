package ferrule.competency;

import ferrule.bench.SignedWork;
import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.UUID;

/**
 * Evaluates a requirement against the evidence and, where it is not met, finds the shortest list of what is missing.
 *
 * <p>The idea: each part of a rule that is not met yields the alternatives that would meet it, each a list of gaps. A
 * task's or an assembly's own rule yields one. "All of" joins an alternative of every unmet part; "at least n of" does so
 * for every choice of as many unmet parts as are lacking. Joining merges gaps that the same work can close (the same
 * task or assembly asked for twice), so that a shared task is not counted twice. Alternatives that ask for all that
 * another one asks for, and more, are dropped on the way. The cheapest that is left is told; of equally cheap ones, the
 * first in the order of the programme.
 *
 * <p>Cost: one for each sign-off, and one for each assembly whose names are to be practised. A sign-off counts once for
 * a task however many rules of the task it serves, because one fine piece of work, on an instrument and before an
 * instructor that are both new, serves them all. The number of alternatives can grow exponentially with nested choices;
 * a programme's rules have a handful. Above {@value #MOST_ALTERNATIVES} only the cheapest are kept, and the list told is
 * then still sufficient, but may not be the shortest.
 */
public final class Evaluation {

  private static final int MOST_ALTERNATIVES = 2_000;

  private final Evidence evidence;
  private final Map<UUID, SignedWork> works = new LinkedHashMap<>();
  private final Map<String, PartsNamed> names = new LinkedHashMap<>();

  private Evaluation(Evidence evidence) {
    this.evidence = evidence;
  }

  /** The verdict on a requirement. */
  public static Verdict of(Requirement requirement, Evidence evidence) {
    Evaluation evaluation = new Evaluation(evidence);
    List<List<Gap>> alternatives = evaluation.alternatives(requirement);
    // the first of equally cheap ones: min keeps the earlier
    List<Gap> shortest = alternatives.stream().min(Comparator.comparingInt(Evaluation::cost)).orElseThrow();
    return new Verdict(List.copyOf(evaluation.works.values()), evaluation.names, shortest);
  }

  /** What would meet a requirement; the one empty list if it is met. */
  private List<List<Gap>> alternatives(Requirement requirement) {
    if (requirement instanceof Requirement.Signed signed) {
      return List.of(gapOf(signed));
    }
    if (requirement instanceof Requirement.Names asked) {
      return List.of(gapOf(asked));
    }
    if (requirement instanceof Requirement.AllOf all) {
      return joined(all.parts().stream().map(this::alternatives).toList());
    }
    Requirement.AtLeast choice = (Requirement.AtLeast) requirement;
    return chosen(choice.count(), choice.parts().stream().map(this::alternatives).toList());
  }

  private List<Gap> gapOf(Requirement.Signed rule) {
    Evidence.Tally tally = evidence.tally(rule.task(), rule.standing());
    tally.works().forEach(w -> works.put(w.record(), w));
    int newInstruments = Math.max(0, rule.instruments() - tally.instruments());
    int newInstructors = Math.max(0, rule.instructors() - tally.instructors());
    int more = Math.max(rule.times() - tally.times(), Math.max(newInstruments, newInstructors));
    return more <= 0
        ? List.of()
        : List.of(new Gap.SignOffs(
            rule.task(), rule.title(), rule.standing(), tally.times(), more, tally.instruments(), newInstruments,
            tally.instructors(), newInstructors));
  }

  private List<Gap> gapOf(Requirement.Names rule) {
    PartsNamed named = evidence.names(rule.assembly());
    names.put(rule.term(), named);
    int needed = rule.needed(named.of());
    return named.right() >= needed
        ? List.of()
        : List.of(new Gap.Names(rule.assembly(), rule.term(), named.right(), needed, named.of()));
  }

  private static List<List<Gap>> joined(List<List<List<Gap>>> parts) {
    List<List<Gap>> joined = List.of(List.of());
    for (List<List<Gap>> alternatives : parts) {
      List<List<Gap>> next = new ArrayList<>();
      for (List<Gap> one : joined) {
        alternatives.forEach(other -> next.add(merged(one, other)));
      }
      joined = pruned(next);
    }
    return joined;
  }

  private static List<List<Gap>> chosen(int count, List<List<List<Gap>>> parts) {
    long met = parts.stream().filter(alternatives -> alternatives.get(0).isEmpty()).count();
    if (met >= count) {
      return List.of(List.of());
    }
    List<List<List<Gap>>> unmet = parts.stream().filter(alternatives -> !alternatives.get(0).isEmpty()).toList();
    return choose(count - (int) met, unmet, 0, List.of(List.of()));
  }

  /** The alternatives of choosing so many of the parts from an index on, each joined to one of those so far. */
  private static List<List<Gap>> choose(
      int count, List<List<List<Gap>>> parts, int from, List<List<Gap>> soFar) {
    if (count == 0) {
      return soFar;
    }
    List<List<Gap>> found = new ArrayList<>();
    for (int i = from; i <= parts.size() - count; i++) {
      found.addAll(choose(count - 1, parts, i + 1, joined(List.of(soFar, parts.get(i)))));
    }
    return pruned(found);
  }

  private record Key(Object subject, Standing standing) {}

  private static Key key(Gap gap) {
    return gap instanceof Gap.SignOffs s ? new Key(s.task(), s.standing())
        : new Key(((Gap.Names) gap).assembly(), Standing.NOT_YET);
  }

  private static List<Gap> merged(List<Gap> one, List<Gap> other) {
    Map<Key, Gap> byKey = new LinkedHashMap<>();
    one.forEach(gap -> byKey.put(key(gap), gap));
    other.forEach(gap -> byKey.merge(key(gap), gap, Evaluation::larger));
    List<Gap> all = List.copyOf(byKey.values());
    return all.stream().filter(gap -> all.stream().noneMatch(o -> o != gap && impliedBy(gap, o))).toList();
  }

  private static Gap larger(Gap a, Gap b) {
    if (a instanceof Gap.SignOffs s) {
      return s.with((Gap.SignOffs) b);
    }
    return ((Gap.Names) a).needed() >= ((Gap.Names) b).needed() ? a : b;
  }

  /** Whether closing the second gap closes the first too: more, finer work of the same task. */
  private static boolean impliedBy(Gap gap, Gap other) {
    return gap instanceof Gap.SignOffs a
        && other instanceof Gap.SignOffs b
        && a.task().equals(b.task())
        && b.standing().compareTo(a.standing()) > 0
        && b.more() >= a.more()
        // an instrument that is new to fine work may be an old one to sound work
        && a.newInstruments() == 0
        && a.newInstructors() == 0;
  }

  /** Without those that ask for all that another asks for, and more. */
  private static List<List<Gap>> pruned(List<List<Gap>> alternatives) {
    List<List<Gap>> distinct = new ArrayList<>(new LinkedHashSet<>(alternatives));
    if (distinct.size() > MOST_ALTERNATIVES) {
      distinct.sort(Comparator.comparingInt(Evaluation::cost));
      distinct = distinct.subList(0, MOST_ALTERNATIVES);
    }
    List<List<Gap>> kept = new ArrayList<>();
    for (int i = 0; i < distinct.size(); i++) {
      if (!isNeedless(i, distinct)) {
        kept.add(distinct.get(i));
      }
    }
    return kept;
  }

  private static boolean isNeedless(int index, List<List<Gap>> all) {
    List<Gap> gaps = all.get(index);
    for (int i = 0; i < all.size(); i++) {
      List<Gap> other = all.get(i);
      // two that cover each other ask for the same: the earlier stays
      if (i != index && covers(gaps, other) && (i < index || !covers(other, gaps))) {
        return true;
      }
    }
    return false;
  }

  private static boolean covers(List<Gap> large, List<Gap> small) {
    return small.stream().allMatch(s -> large.stream().anyMatch(l -> covers(l, s)));
  }

  /** Whether the first gap asks for at least what the second does. */
  private static boolean covers(Gap large, Gap small) {
    if (!key(large).equals(key(small))) {
      return false;
    }
    if (large instanceof Gap.SignOffs a) {
      Gap.SignOffs b = (Gap.SignOffs) small;
      return a.more() >= b.more() && a.newInstruments() >= b.newInstruments()
          && a.newInstructors() >= b.newInstructors();
    }
    return ((Gap.Names) large).needed() >= ((Gap.Names) small).needed();
  }

  /** How much would have to be done. */
  static int cost(List<Gap> gaps) {
    Map<TaskId, Integer> signOffs = new HashMap<>();
    Set<ConceptId> assemblies = new LinkedHashSet<>();
    for (Gap gap : gaps) {
      if (gap instanceof Gap.SignOffs s) {
        signOffs.merge(s.task(), s.more(), Math::max);
      } else {
        assemblies.add(((Gap.Names) gap).assembly());
      }
    }
    return signOffs.values().stream().mapToInt(Integer::intValue).sum() + assemblies.size();
  }
}
