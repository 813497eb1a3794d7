package ferrule.report;

import ferrule.drill.ItemKind;
import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.util.Comparator;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.UUID;
import java.util.function.DoubleUnaryOperator;

/**
 * What is known of a school's parts, worked out from every answer in the order in which they were given, each with what it
 * counts now: the model that {@code drill.known} describes, written out once more with its constants.
 */
final class PlainKnowledge {

  /** A quantity that is believed to be about so much, give or take. */
  private record About(double mean, double variance) {}

  /** What was left of an apprentice's answers for a part. */
  private record Left(About hold, Instant last, boolean missed) {}

  private static final About ABILITY = new About(0, 1);
  private static final About DIFFICULTY = new About(-1.5, 4);
  private static final double OWN = 9;
  private static final double EIGHT_OF_TEN = 1.2815515655446004;

  private final Map<UUID, About> abilities = new HashMap<>();
  private final Map<ConceptId, About> difficulties = new HashMap<>();
  private final Map<List<Object>, Left> left = new HashMap<>();

  PlainKnowledge(RawRecords raw, Instant now) {
    raw.answered.stream().filter(a -> a.kind().asksForName())
        .sorted(Comparator.comparing(RawRecords.Answered::at)).forEach(a -> learn(a, raw.credit(a, now)));
  }

  private About hold(UUID person, ConceptId part) {
    Left before = left.get(List.of(person, part));
    if (before != null) {
      return before.hold();
    }
    About ability = abilities.getOrDefault(person, ABILITY);
    About difficulty = difficulties.getOrDefault(part, DIFFICULTY);
    return new About(ability.mean() - difficulty.mean(), ability.variance() + difficulty.variance() + OWN);
  }

  /** The logarithm of the days since the part was met last; a fortnight if it never was. */
  private double sinceLast(UUID person, ConceptId part, Instant now) {
    Left before = left.get(List.of(person, part));
    double seconds = before == null ? 14 * 86_400 : Math.max(30, Duration.between(before.last(), now).toMillis() / 1_000.0);
    return Math.log(seconds / 86_400);
  }

  private static double logistic(double x) {
    return 1 / (1 + Math.exp(-x));
  }

  private void learn(RawRecords.Answered a, double credit) {
    About before = hold(a.person(), a.part());
    double since = sinceLast(a.person(), a.part(), a.at());
    double guess = a.kind() == ItemKind.NAME ? 0 : a.kind() == ItemKind.FIND ? 1 / 6.0 : 1 / 4.0;
    double ease = a.kind() == ItemKind.NAME ? 0 : Math.log(2);
    double gain = credit * Math.log(16) + (1 - credit) * Math.log(6);
    DoubleUnaryOperator likelihood = x -> {
      double known = logistic(x + ease - since);
      double right = known * 0.97 + (1 - known) * guess;
      return Math.pow(right, credit) * Math.pow(1 - right, 1 - credit);
    };
    About after = after(before, likelihood, x -> x + gain * (1 - logistic(x - since)));
    if (!left.containsKey(List.of(a.person(), a.part()))) {
      About seen = after(before, likelihood, x -> x);
      abilities.put(a.person(), share(abilities.getOrDefault(a.person(), ABILITY), 1, before, seen));
      difficulties.put(a.part(), share(difficulties.getOrDefault(a.part(), DIFFICULTY), -1, before, seen));
    }
    left.put(
        List.of(a.person(), a.part()), new Left(new About(after.mean(), after.variance() + 2.4), a.at(), credit < 1));
  }

  private static About share(About term, int sign, About before, About seen) {
    double part = term.variance() / before.variance();
    return new About(
        term.mean() + sign * part * (seen.mean() - before.mean()),
        Math.max(0.02, term.variance() - part * part * (before.variance() - seen.variance())));
  }

  /** Mean and variance after evidence, by sums over 33 places from -4 to 4 standard deviations. */
  private static About after(About before, DoubleUnaryOperator likelihood, DoubleUnaryOperator change) {
    double[] sums = new double[3];
    for (int i = -16; i <= 16; i++) {
      double x = before.mean() + Math.sqrt(before.variance()) * i / 4;
      double weight = Math.exp(-i * i / 32.0) * likelihood.applyAsDouble(x);
      double moved = change.applyAsDouble(x) - before.mean();
      sums[0] += weight;
      sums[1] += weight * moved;
      sums[2] += weight * moved * moved;
    }
    double mean = sums[1] / sums[0];
    return new About(before.mean() + mean, sums[2] / sums[0] - mean * mean);
  }

  private double chance(UUID person, ConceptId part, Instant when) {
    About hold = hold(person, part);
    double since = sinceLast(person, part, when);
    double weights = 0;
    double sum = 0;
    for (int i = -16; i <= 16; i++) {
      double weight = Math.exp(-i * i / 32.0);
      weights += weight;
      sum += weight * logistic(hold.mean() + Math.sqrt(hold.variance()) * i / 4 - since);
    }
    return sum / weights;
  }

  /** Whether somebody of these was asked for a part. */
  boolean isAsked(List<UUID> people, ConceptId part) {
    return people.stream().anyMatch(p -> left.containsKey(List.of(p, part)));
  }

  /** What share of a class would name a part now, none of whom missed it last. */
  double today(List<UUID> people, ConceptId part, Instant now) {
    return people.stream().mapToDouble(p -> today(p, part, now)).sum() / people.size();
  }

  private double today(UUID person, ConceptId part, Instant now) {
    Left before = left.get(List.of(person, part));
    return before != null && before.missed() ? 0 : chance(person, part, now);
  }

  /** How many of a class would name a part now, as a page says it. */
  String todayInWords(List<UUID> people, ConceptId part, Instant now) {
    return inWords(people.stream().map(p -> today(p, part, now)).toList());
  }

  /** How many would at a later moment, those too who missed it last and have read its name since. */
  String inWords(List<UUID> people, ConceptId part, Instant when) {
    return inWords(people.stream().map(p -> chance(p, part, when)).toList());
  }

  private static String inWords(List<Double> chances) {
    double mean = chances.stream().mapToDouble(c -> c).sum();
    double spread = EIGHT_OF_TEN * Math.sqrt(chances.stream().mapToDouble(c -> c * (1 - c)).sum());
    long low = Math.round(Math.max(0, mean - spread));
    long high = Math.round(Math.min(chances.size(), mean + spread));
    return (low == high ? "" : low + "–") + high + " of " + chances.size();
  }
}
