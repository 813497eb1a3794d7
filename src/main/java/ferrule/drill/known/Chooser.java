package ferrule.drill.known;

import ferrule.glossary.ConceptId;
import java.time.Duration;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collection;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Optional;
import java.util.Random;
import java.util.TreeSet;
import java.util.UUID;

/**
 * Chooses what to practise next, so that soon as many parts as possible would be named a week from now.
 *
 * <p>The worth of a question on a part is the expected value of a product. One factor is the root of what is missing,
 * which is 1 less the chance that the part is named a week from now. The other is what a question now adds to the
 * logarithm of the hold. It is small where the name is still there, so spacing needs no rule of its own: minutes after
 * an answer a part is worth next to nothing, and its worth grows as it is forgotten. Under the expectation doubt counts:
 * a part that was never asked for may be lost, and is tried.
 *
 * <p>Taking the question that raises next week's chance most was tried and is worse: the chance rises along an S, so
 * such a chooser polishes what is nearly firm and does not begin with what is hard. Leaving out what is probably still
 * there, on the grounds that it is worth more later, is worse too: the rest is lost meanwhile.
 *
 * <p>Linear in the number of parts, with one integral for each. The same knowledge, moment and seed give the same
 * choice; the seed decides between equals only.
 */
public final class Chooser {

  /** How far ahead it looks. */
  public static final Duration AHEAD = Duration.ofDays(7);

  private final Knowledge knowledge;

  /** Chooses by what is known. */
  public Chooser(Knowledge knowledge) {
    this.knowledge = knowledge;
  }

  /**
   * A part and what a question on it is worth.
   *
   * @param part the part
   * @param worth from 0; it orders parts and has no unit
   */
  public record Worth(ConceptId part, double worth) {}

  /**
   * The parts that are most worth a question now, the best first.
   *
   * @param parts those to choose from
   * @param count how many at most; fewer come back only if there are fewer parts
   */
  public List<Worth> next(UUID person, Collection<ConceptId> parts, Asking asking, Instant now, int count, long seed) {
    List<ConceptId> shuffled = new ArrayList<>(new TreeSet<>(parts));
    Collections.shuffle(shuffled, new Random(seed));
    return shuffled.stream()
        .map(part -> new Worth(part, worth(person, part, asking, now)))
        .sorted(Comparator.comparingDouble(Worth::worth).reversed())
        .limit(count)
        .toList();
  }

  /** What a question on a part now is worth. */
  public double worth(UUID person, ConceptId part, Asking asking, Instant now) {
    Belief hold = knowledge.hold(person, part);
    Optional<Trace> trace = knowledge.trace(person, part);
    KnownModel model = knowledge.model();
    return model.expectedWorth(hold, trace, asking, now, now.plus(AHEAD));
  }
}
