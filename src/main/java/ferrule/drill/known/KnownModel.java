package ferrule.drill.known;

import java.time.Duration;
import java.time.Instant;
import java.util.Optional;
import java.util.function.DoubleUnaryOperator;

/**
 * The model of what is known.
 *
 * <p><b>Idea.</b> A part in a memory has a <i>hold</i>: the time, in days since the apprentice last met it, at which
 * they would name it in one case of two. The chance after t days is h / (h + t), so the log odds are ln h - ln t. That
 * is at once the retrieval equation of ACT-R for a single trace, 1 / (1 + exp(-(B - threshold) / s)) with the base
 * level B = -d ln t and d = s [1], a power law of forgetting in the tail [2], and the model of Rasch, in which the
 * elapsed time is the opponent: what Elo and Glicko ratings need. The logarithm of the hold is a sum:
 *
 * <pre>  ln hold = ability of the apprentice - difficulty of the part + what is this pair's own</pre>
 *
 * <p>so the model has the three terms of DASH (difficulty, ability, study history) [3], arranged as in Elo systems for
 * domains with varied prior knowledge [4, 5]: the first answer of an apprentice for a part moves ability, difficulty
 * and hold together; later answers move the hold alone, because by then it is practice that speaks. A part that was
 * never asked for counts as met a fortnight ago, for all that is known. Every quantity is a normal distribution. An
 * answer moves the hold by Bayes' rule and each of its terms by its share of the variance, then the posterior is
 * replaced by the normal distribution with its mean and variance: what Glicko does for ratings [6], but with the
 * integral done by a rule of 33 points instead of by approximation, because the answer to a choice can be a guess and
 * the answer to any question a slip [7]. A credit of c counts as c right answers and 1 - c wrong ones, as a draw does
 * in Glicko.
 *
 * <p><b>Practice.</b> Every answer is followed by the right name, so every answer lengthens the hold: by the gain for
 * right or wrong answers times the chance that the name had been lost by then. A wrong answer that is put right is
 * learning: it made what was retained a week later six times as much as a wrong answer alone, while the same after a
 * right one made little difference [11]; here too what it adds is largest where the name was lost. But what somebody
 * can say just after reading it tells little of what they will know [12]. So it counts in every forecast, and in what
 * is worth practising, and never as a name that they have shown they know: see {@link Knowledge#shown}. Practice too soon adds next to nothing:
 * the spacing effect, in the form that Pavlik and Anderson give it, where the more active a memory is, the less durable
 * what is added to it [8]. How much one practice adds varies, so the variance grows a little each time. Over an
 * uncertain hold the expected chance falls more slowly than any single curve, which is how real forgetting curves look
 * [9].
 *
 * <p><b>Why this one.</b> A school has a few hundred answers, not millions: a part is asked for perhaps five times of
 * an apprentice. A model with weights to fit (half-life regression [10]) has nothing to fit them on in the first
 * month; here classmates' answers set the difficulty and other parts' answers the ability, and two numbers each keep
 * what is still unsure. Knowledge tracing [7] does not forget; its equation for the response is used.
 *
 * <p><b>Constants.</b> The gains, the spreads and the prior are our own estimates, no source: a right answer at even
 * odds makes a hold four times as long, a wrong one two and a half times; before anything is known, four in ten parts
 * would be named. How much gains vary was set so wide that the bounds of a chance hold about as often as they promise
 * with simulated memories. {@code KnownBench} prints that, and the result with the gains halved and doubled.
 *
 * <p><b>Cost.</b> An update takes a constant time and needs the two numbers of the apprentice, of the part, and of the
 * pair; about 33 logistic functions.
 *
 * <ol>
 *   <li>J. R. Anderson, C. Lebiere, The Atomic Components of Thought, 1998, chapter 4.
 *   <li>J. T. Wixted, E. B. Ebbesen, On the form of forgetting, Psychological Science 2, 1991, 409-415.
 *   <li>R. V. Lindsey, J. D. Shroyer, H. Pashler, M. C. Mozer, Improving students' long-term knowledge retention
 *       through personalized review, Psychological Science 25, 2014, 639-647.
 *   <li>J. Papousek, R. Pelanek, V. Stanislav, Adaptive practice of facts in domains with varied prior knowledge,
 *       Educational Data Mining 2014.
 *   <li>R. Pelanek, Applications of the Elo rating system in adaptive educational systems, Computers and Education 98,
 *       2016, 169-179.
 *   <li>M. E. Glickman, Parameter estimation in large dynamic paired comparison experiments, Applied Statistics 48,
 *       1999, 377-394.
 *   <li>A. T. Corbett, J. R. Anderson, Knowledge tracing, User Modeling and User-Adapted Interaction 4, 1995, 253-278.
 *   <li>P. I. Pavlik, J. R. Anderson, Practice and forgetting effects on vocabulary memory, Cognitive Science 29, 2005,
 *       559-586.
 *   <li>R. B. Anderson, R. D. Tweney, Artifactual power curves in forgetting, Memory and Cognition 25, 1997, 724-730.
 *   <li>B. Settles, B. Meeder, A trainable spaced repetition model for language learning, ACL 2016, 1848-1858.
 *   <li>H. Pashler, N. J. Cepeda, J. T. Wixted, D. Rohrer, When does feedback facilitate learning of words?, Journal of
 *       Experimental Psychology: Learning, Memory, and Cognition 31, 2005, 3-8.
 *   <li>H. L. Roediger, J. D. Karpicke, Test-enhanced learning, Psychological Science 17, 2006, 249-255.
 * </ol>
 */
public final class KnownModel {

  /** Eight of ten cases lie within this many standard deviations. */
  static final double EIGHT_OF_TEN = 1.2815515655446004;

  /** Time under this is not told apart: nobody answers, reads the name and is asked again sooner. */
  private static final Duration LEAST_ELAPSED = Duration.ofSeconds(30);

  /** When a part that was never asked for was met last, for all that is known. */
  private static final Duration UNSEEN = Duration.ofDays(14);

  private static final double DAY_IN_SECONDS = Duration.ofDays(1).toSeconds();
  private static final double LEAST_VARIANCE = 0.02;

  private final Constants constants;

  /** A model with these constants. */
  public KnownModel(Constants constants) {
    this.constants = constants;
  }

  /** The model with the constants that Ferrule uses. */
  public static KnownModel standard() {
    return new KnownModel(Constants.STANDARD);
  }

  /**
   * The constants of the model; all are logarithms of factors.
   *
   * @param ability what is believed about an apprentice of whom nothing is known
   * @param difficulty what is believed about a part of which nothing is known
   * @param own what ability and difficulty leave unexplained of an apprentice's hold on a part; wide, since a name is
   *     mostly known for years or never heard
   * @param gainRight what a right answer adds where the name would have been lost for certain
   * @param gainWrong what a wrong answer and reading the right name add then
   * @param gainVariance by how much the variance grows with one practice
   */
  public record Constants(
      Belief ability, Belief difficulty, Belief own, double gainRight, double gainWrong, double gainVariance) {

    static final Constants STANDARD =
        new Constants(Belief.of(0, 1), Belief.of(-1.5, 2), Belief.of(0, 3), Math.log(16), Math.log(6), 2.4);

    /** The same with gains that are this many times as long. */
    public Constants withGains(double factor) {
      return new Constants(ability, difficulty, own, gainRight * factor, gainWrong * factor, gainVariance);
    }
  }

  /** What is believed before the first answer of anyone. */
  public Constants constants() {
    return constants;
  }

  /**
   * What is believed after an answer.
   *
   * @param ability of the apprentice
   * @param difficulty of the part
   * @param trace of this apprentice and this part
   */
  public record Learned(Belief ability, Belief difficulty, Trace trace) {}

  /** The logarithm of an apprentice's hold on a part, in days. */
  public Belief hold(Belief ability, Belief difficulty, Optional<Trace> trace) {
    return trace.map(Trace::hold).orElseGet(() -> ability.minus(difficulty).plus(constants.own()));
  }

  /**
   * The chance that a part would be named at a moment, if it is not met again until then.
   *
   * @param hold the logarithm of the hold
   * @param trace of the part, if it was ever asked for
   * @param when the moment; before the last answer counts as just after it
   */
  public Chance chance(Belief hold, Optional<Trace> trace, Instant when) {
    double elapsed = logElapsed(trace, when);
    double spread = EIGHT_OF_TEN * hold.deviation();
    return new Chance(
        NormalRule.mean(hold, x -> logistic(x - elapsed)),
        logistic(hold.mean() - spread - elapsed),
        logistic(hold.mean() + spread - elapsed));
  }

  /** The chance of a right answer if the part is asked for in this way at this moment. */
  public double right(Belief hold, Optional<Trace> trace, Asking asking, Instant when) {
    double elapsed = logElapsed(trace, when);
    return NormalRule.mean(hold, x -> asking.right(logistic(x + asking.ease() - elapsed)));
  }

  /**
   * What is believed after an answer.
   *
   * @param credit what the answer counts, from 0 to 1
   * @param at when it was given
   */
  public Learned after(
      Belief ability, Belief difficulty, Optional<Trace> trace, Asking asking, double credit, Instant at) {
    Belief before = hold(ability, difficulty, trace);
    double elapsed = logElapsed(trace, at);
    double gain = credit * constants.gainRight() + (1 - credit) * constants.gainWrong();
    DoubleUnaryOperator evidence =
        x -> {
          double right = asking.right(logistic(x + asking.ease() - elapsed));
          return Math.pow(right, credit) * Math.pow(1 - right, 1 - credit);
        };
    Belief practised = NormalRule.posterior(before, evidence, x -> x + gain * (1 - logistic(x - elapsed)));
    Belief hold = new Belief(practised.mean(), practised.variance() + constants.gainVariance());
    if (trace.isPresent()) {
      return new Learned(ability, difficulty, trace.get().after(hold, credit, at));
    }
    Belief seen = NormalRule.posterior(before, evidence, x -> x);
    return new Learned(
        share(ability, 1, before, seen), share(difficulty, -1, before, seen), Trace.first(hold, credit, at));
  }

  /**
   * What one question now is expected to be worth, whatever the answer: by how much it lengthens the hold, as a
   * logarithm, times the root of the chance that without it the name is lost later.
   */
  double expectedWorth(Belief hold, Optional<Trace> trace, Asking asking, Instant now, Instant later) {
    double elapsed = logElapsed(trace, now);
    double then = logElapsed(trace, later);
    return NormalRule.mean(
        hold,
        x -> {
          double right = asking.right(logistic(x + asking.ease() - elapsed));
          double gain = right * constants.gainRight() + (1 - right) * constants.gainWrong();
          return gain * (1 - logistic(x - elapsed)) * Math.sqrt(1 - logistic(x - then));
        });
  }

  /** A term of a sum of independent normal terms after the sum was seen: exact, the sum's posterior being normal. */
  static Belief share(Belief term, int sign, Belief before, Belief seen) {
    double weight = term.variance() / before.variance();
    double variance = term.variance() - weight * weight * (before.variance() - seen.variance());
    return new Belief(
        term.mean() + sign * weight * (seen.mean() - before.mean()), Math.max(LEAST_VARIANCE, variance));
  }

  private static double logElapsed(Optional<Trace> trace, Instant when) {
    if (trace.isEmpty()) {
      return Math.log(UNSEEN.toDays());
    }
    double seconds = Duration.between(trace.get().last(), when).toMillis() / 1000.0;
    return Math.log(Math.max(seconds, LEAST_ELAPSED.toSeconds()) / DAY_IN_SECONDS);
  }

  static double logistic(double logOdds) {
    return 1 / (1 + Math.exp(-logOdds));
  }
}
