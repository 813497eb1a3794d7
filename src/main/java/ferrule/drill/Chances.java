package ferrule.drill;

import ferrule.drill.item.Topic;
import ferrule.drill.known.Asking;
import ferrule.drill.known.Belief;
import ferrule.drill.known.Knowledge;
import ferrule.glossary.ConceptId;
import java.util.Collection;
import java.util.HashMap;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import java.util.function.Function;

/**
 * The chance that an apprentice of middling ability answers an item right: what forms are matched by, and what an
 * instructor is told before a drill is set.
 *
 * <p>It is a logistic model with guessing, the three-parameter model of A. Birnbaum (in F. M. Lord, M. R. Novick,
 * Statistical Theories of Mental Test Scores, 1968, chapter 17; from memory) with equal slopes and an upper asymptote for
 * slips. The difficulty of a part is a weighted mean. One term is what apprentices' answers have shown of it, weighted by
 * the share of its prior variance that the answers have taken away; the other, with the rest of the weight, is its
 * structure: the words of its name, its look-alikes, its size. That is shrinkage, as in empirical Bayes estimates. How
 * much harder one way of asking is than another is our own estimate, no source.
 */
final class Chances {

  // somebody who has met a part a fortnight ago, as in KnownModel for a part that was never asked for
  private static final double FORTNIGHT = Math.log(14);

  private final double ability;
  private final Belief prior;
  private final Function<ConceptId, Belief> difficulty;
  private final Map<String, Double> found = new HashMap<>();

  private Chances(double ability, Belief prior, Function<ConceptId, Belief> difficulty) {
    this.ability = ability;
    this.prior = prior;
    this.difficulty = difficulty;
  }

  /** Chances by what is known of these apprentices. */
  static Chances of(Knowledge knowledge, Collection<UUID> people) {
    double usual = knowledge.model().constants().ability().mean();
    double mean = people.stream().mapToDouble(p -> knowledge.ability(p).mean()).average().orElse(usual);
    return new Chances(mean, knowledge.model().constants().difficulty(), knowledge::difficulty);
  }

  /** Chances by structure alone, for apprentices of whom nothing is known. */
  static Chances byStructure() {
    return of(new Knowledge(ferrule.drill.known.KnownModel.standard()), java.util.List.of());
  }

  /** The same for apprentices who are that much abler, in log odds. */
  Chances forAbler(double by) {
    return new Chances(ability + by, prior, difficulty);
  }

  /** The chance of a right answer, from 0 to 1. */
  double of(ItemKind kind, Topic topic) {
    return found.computeIfAbsent(kind.word() + topic.id(), k -> reckon(kind, topic));
  }

  private double reckon(ItemKind kind, Topic topic) {
    Belief shown = kind.asksForName() ? difficulty.apply(topic.key()) : prior;
    double weight = 1 - Math.min(1, shown.variance() / prior.variance());
    double hard = weight * shown.mean() + (1 - weight) * (prior.mean() + topic.hardness());
    double known = 1 / (1 + Math.exp(-(ability - hard - FORTNIGHT - kind.hardness())));
    return known * (1 - Asking.SLIP) + (1 - known) * kind.guess();
  }
}
