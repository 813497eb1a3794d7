package ferrule.competency;

import ferrule.bench.SignedWork;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;

/**
 * Evaluates the requirements of a programme against the evidence and, where one is not met, finds the shortest list of
 * what is missing.
 *
 * <p>The idea: each part of a rule yields the {@linkplain Way ways} to meet it, each a list of gaps. A task's or an
 * assembly's own rule yields one, a competency that comes first those of its own rule. "All of" joins a way of every
 * part; "at least n of" does so for every choice of n parts. Joining merges gaps that the same work can close (the same
 * task or assembly asked for twice), so that a shared task is not counted twice. Ways that ask for all that another one
 * asks for, and more, are dropped. The cheapest that is left is told; of equally cheap ones, the first in the order of
 * the programme.
 *
 * <p>Cost: one for each sign-off, one for each assembly whose names are to be practised, one for each evening at the
 * bench. A sign-off counts once for a task however many rules of the task it serves, because one fine piece of work, on
 * an instrument and before an instructor that are both new, serves them all. What is missing is meant to be done at
 * the moment of the evaluation: windows and currencies are reckoned from it.
 *
 * <p>A rule of the latest or of consecutive work can be undone by further work. A way that meets such a rule therefore
 * carries a floor: further work of the task, asked for by whatever rule, must stand as high as that rule asks. That
 * makes no list longer, since fine work counts wherever sound work does.
 *
 * <p>The number of ways can grow exponentially with nested choices; a programme's rules have a handful. Above {@value
 * Way#MOST} only the cheapest are kept, and the list told is then still sufficient, but may not be the shortest.
 */
public final class Evaluation {

  private final Map<String, Competency> competencies;
  private final Evidence evidence;
  private final Map<String, List<Way>> known = new HashMap<>();

  private Evaluation(Map<String, Competency> competencies, Evidence evidence) {
    this.competencies = competencies;
    this.evidence = evidence;
  }

  /** The verdict on a requirement that names no other competency. */
  static Verdict of(Requirement requirement, Evidence evidence) {
    Evaluation evaluation = new Evaluation(Map.of(), evidence);
    return evaluation.verdict(requirement, evaluation.ways(requirement), Optional.empty());
  }

  /** The verdicts on every competency of a programme, by id and in its order. */
  public static Map<String, Verdict> of(Programme programme, Evidence evidence) {
    Map<String, Competency> competencies = new HashMap<>();
    programme.competencies().forEach(c -> competencies.put(c.id(), c));
    Evaluation evaluation = new Evaluation(competencies, evidence);
    Map<String, Verdict> verdicts = new LinkedHashMap<>();
    for (Competency c : programme.competencies()) {
      verdicts.put(
          c.id(), evaluation.verdict(c.requires(), evaluation.waysTo(c.id()), evidence.equivalence(c.id())));
    }
    return verdicts;
  }

  private Verdict verdict(Requirement requirement, List<Way> ways, Optional<Equivalence> equivalence) {
    Way shortest = Way.cheapest(ways);
    Map<UUID, SignedWork> works = new LinkedHashMap<>();
    Map<String, PartsNamed> names = new LinkedHashMap<>();
    Map<String, Boolean> before = new LinkedHashMap<>();
    int[] minutes = {0};
    requirement.all().forEach(rule -> {
      if (rule instanceof Requirement.Signed signed) {
        evidence.meeting(signed).orElseGet(() -> evidence.extendable(signed)).works()
            .forEach(w -> works.put(w.record(), w));
      } else if (rule instanceof Requirement.Names asked) {
        names.put(asked.term(), evidence.names(asked.assembly()));
      } else if (rule instanceof Requirement.Known asked) {
        names.put(asked.term(), evidence.names(asked.scope()));
      } else if (rule instanceof Requirement.Hours hours) {
        minutes[0] = Math.max(minutes[0], minutes(hours));
      } else if (rule instanceof Requirement.Holds holds) {
        before.put(holds.title(), Way.cheapest(waysTo(holds.competency())).isMet());
      }
    });
    return new Verdict(
        List.copyOf(works.values()), names, minutes[0], before, equivalence, shortest.told(),
        List.copyOf(shortest.first()));
  }

  private List<Way> waysTo(String competency) {
    List<Way> ways = known.get(competency);
    if (ways == null) {
      Competency asked = competencies.get(competency);
      if (asked == null) {
        throw new IllegalArgumentException("the programme has no competency " + competency);
      }
      // until it is known, whatever leads back to it finds nothing: Programme has no circles
      ways = evidence.equivalence(competency).isPresent() ? List.of(Way.MET) : ways(asked.requires());
      known.put(competency, ways);
    }
    return ways;
  }

  /** The ways to meet a requirement, at least one. */
  private List<Way> ways(Requirement requirement) {
    if (requirement instanceof Requirement.Signed signed) {
      return List.of(way(signed));
    }
    if (requirement instanceof Requirement.AllOf all) {
      List<Way> joined = List.of(Way.MET);
      for (Requirement part : all.parts()) {
        joined = Way.joined(joined, ways(part));
      }
      return joined;
    }
    if (requirement instanceof Requirement.AtLeast choice) {
      return chosen(choice.count(), choice.parts().stream().map(this::ways).toList());
    }
    if (requirement instanceof Requirement.Names asked) {
      return List.of(way(asked));
    }
    if (requirement instanceof Requirement.Known asked) {
      return List.of(way(asked));
    }
    if (requirement instanceof Requirement.Hours hours) {
      return List.of(way(hours));
    }
    Requirement.Holds holds = (Requirement.Holds) requirement;
    return waysTo(holds.competency()).stream().map(w -> w.to(holds.title())).toList();
  }

  private Way way(Requirement.Signed rule) {
    boolean met = evidence.meeting(rule).isPresent();
    Way way = met ? Way.MET : Way.of(gap(rule));
    Counting.Order order = rule.counting().order();
    boolean canBeUndone = order == Counting.Order.LATEST || (order == Counting.Order.CONSECUTIVE && !met);
    return canBeUndone ? way.keeping(rule.task(), rule.standing()) : way;
  }

  private Gap gap(Requirement.Signed rule) {
    Evidence.Tally tally = evidence.extendable(rule);
    int newInstruments = Math.max(0, rule.instruments() - tally.instruments());
    int newInstructors = Math.max(0, rule.instructors() - tally.instructors());
    int more = Math.max(rule.times() - tally.times(), Math.max(newInstruments, newInstructors));
    return new Gap.SignOffs(
        rule, rule.standing(), tally.times(), more, tally.instruments(), newInstruments, tally.instructors(),
        newInstructors, evidence.lapsed(rule));
  }

  private Way way(Requirement.Names rule) {
    PartsNamed named = evidence.names(rule.assembly());
    int needed = rule.needed(named.of());
    return named.right() >= needed ? Way.MET
        : Way.of(new Gap.Names(rule.assembly(), rule.term(), named.right(), needed, named.of()));
  }

  private Way way(Requirement.Known rule) {
    PartsNamed named = evidence.names(rule.scope());
    int more = named.untilSure(rule.percent() / 100.0);
    return more == 0 ? Way.MET : Way.of(new Gap.Known(rule.scope(), rule.term(), named, rule.percent(), more));
  }

  private Way way(Requirement.Hours rule) {
    int have = minutes(rule);
    int more = rule.hours() * 60 - have;
    return more <= 0 ? Way.MET : Way.of(new Gap.Hours(rule, have, more));
  }

  private int minutes(Requirement.Hours rule) {
    return evidence.hours(rule).stream().mapToInt(BenchHours::minutes).sum();
  }

  private static List<Way> chosen(int count, List<List<Way>> parts) {
    int free = (int) parts.stream().filter(Way::isFree).count();
    if (free >= count) {
      return List.of(Way.MET);
    }
    return choose(count - free, parts.stream().filter(ways -> !Way.isFree(ways)).toList(), 0, List.of(Way.MET));
  }

  /** The ways of choosing so many of the parts from an index on, each joined to one of those so far. */
  private static List<Way> choose(int count, List<List<Way>> parts, int from, List<Way> soFar) {
    if (count == 0) {
      return soFar;
    }
    List<Way> found = new ArrayList<>();
    for (int i = from; i <= parts.size() - count; i++) {
      found.addAll(choose(count - 1, parts, i + 1, Way.joined(soFar, parts.get(i))));
    }
    return Way.pruned(found);
  }
}
