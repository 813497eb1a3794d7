package ferrule.drill.item;

import ferrule.glossary.ConceptId;
import java.math.BigDecimal;
import java.math.RoundingMode;
import java.util.ArrayList;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.function.Function;
import java.util.random.RandomGenerator;

/**
 * "The gauge reads this. Is it within tolerance?" A reading lies farther from each limit than the gauge's uncertainty,
 * because a nearer one decides nothing (JCGM 106:2012, guard bands; from memory).
 */
public final class ReadingWithin implements Writer {

  private static final int PLACES = 12;
  private static final BigDecimal TWO = BigDecimal.valueOf(2);

  private final List<Tolerance> tolerances;
  private final Function<ConceptId, Optional<ConceptId>> home;
  private final ConceptId instrument;

  /**
   * A writer over these tolerances.
   *
   * @param home the assembly under which a part is picked
   * @param instrument what work without parts is about
   */
  public ReadingWithin(
      List<Tolerance> tolerances, Function<ConceptId, Optional<ConceptId>> home, ConceptId instrument) {
    this.tolerances = List.copyOf(tolerances);
    this.home = home;
    this.instrument = instrument;
  }

  @Override
  public List<Topic> topics() {
    return tolerances.stream().map(this::topic).toList();
  }

  private Topic topic(Tolerance t) {
    Set<ConceptId> homes = new LinkedHashSet<>();
    t.parts().forEach(part -> home.apply(part).ifPresent(homes::add));
    if (homes.isEmpty()) {
      homes.add(instrument);
    }
    return new Topic(t.parts().stream().findFirst().orElse(instrument), "reading/" + t.id(), t.id(), homes, 0);
  }

  @Override
  public Optional<Draft> write(Topic topic, RandomGenerator random) {
    Tolerance t = tolerances.stream().filter(x -> x.id().equals(topic.id())).findFirst().orElseThrow();
    List<Side> sides = new ArrayList<>();
    for (Side side : Side.values()) {
      if (!grid(t, side).isEmpty()) {
        sides.add(side);
      }
    }
    if (!sides.contains(Side.WITHIN) || sides.size() < 2) {
      return Optional.empty();
    }
    Side key = Shuffled.one(sides, random);
    BigDecimal reading = Shuffled.one(grid(t, key), random);
    List<Option> options = sides.stream().map(s -> option(t, s, s == key, key, reading)).toList();
    String stem =
        t.work() + ". Measured: " + t.quantity() + ". It must be " + t.limits() + ". The gauge reads "
            + reading.toPlainString() + " " + t.unit() + ". Is that within tolerance?";
    return Optional.of(new Draft(topic.key(), Optional.empty(), new Interaction.Choice(stem, List.of(), options)));
  }

  /** On which side of the limits a reading lies. */
  private enum Side {
    BELOW("No, it is too small"),
    WITHIN("Yes, it is within tolerance"),
    ABOVE("No, it is too large");

    private final String words;

    Side(String words) {
      this.words = words;
    }
  }

  private static Option option(Tolerance t, Side side, boolean isKey, Side key, BigDecimal reading) {
    String because =
        switch (key) {
          case BELOW -> reading.toPlainString() + " lies below the least, ";
          case WITHIN -> reading.toPlainString() + " lies within the limits, ";
          case ABOVE -> reading.toPlainString() + " lies above the most, ";
        };
    return new Option(
        side.name().toLowerCase(java.util.Locale.ROOT), side.words, isKey,
        because + t.limits() + ". Source of the limits: " + t.source() + ".");
  }

  /** Readings on one side of the limits, on the divisions of a gauge, none below 0 where the limits are not. */
  private static List<BigDecimal> grid(Tolerance t, Side side) {
    BigDecimal span = span(t);
    BigDecimal step = step(span);
    BigDecimal from =
        switch (side) {
          case BELOW -> t.lower().map(l -> l.subtract(span)).orElse(null);
          case WITHIN -> t.lower().map(l -> l.add(t.uncertainty())).orElse(BigDecimal.ZERO);
          case ABOVE -> t.upper().map(u -> u.add(t.uncertainty())).orElse(null);
        };
    BigDecimal to =
        switch (side) {
          case BELOW -> t.lower().map(l -> l.subtract(t.uncertainty())).orElse(null);
          case WITHIN -> t.upper().map(u -> u.subtract(t.uncertainty())).orElseGet(() -> t.lower().get().add(span));
          case ABOVE -> t.upper().map(u -> u.add(span)).orElse(null);
        };
    if (from == null || to == null) {
      return List.of();
    }
    boolean mayBeNegative = t.lower().filter(l -> l.signum() < 0).isPresent();
    BigDecimal least = mayBeNegative ? from : from.max(BigDecimal.ZERO);
    List<BigDecimal> readings = new ArrayList<>();
    // strictly between, so that a reading never stands on a limit or at the gauge's uncertainty from it
    BigDecimal at = least.divide(step, 0, RoundingMode.FLOOR).add(BigDecimal.ONE).multiply(step);
    for (; at.compareTo(to) < 0; at = at.add(step)) {
      readings.add(at.setScale(Math.max(0, step.scale()), RoundingMode.UNNECESSARY));
    }
    return readings;
  }

  private static BigDecimal span(Tolerance t) {
    if (t.lower().isPresent() && t.upper().isPresent()) {
      return t.upper().get().subtract(t.lower().get());
    }
    BigDecimal limit = t.lower().or(t::upper).orElseThrow().abs();
    BigDecimal guard = t.uncertainty().multiply(TWO);
    return (limit.signum() == 0 ? BigDecimal.ONE : limit).max(guard);
  }

  /** A power of ten that divides the span into ten to a hundred. */
  private static BigDecimal step(BigDecimal span) {
    BigDecimal step = BigDecimal.ONE;
    BigDecimal tenth = span.divide(BigDecimal.TEN, PLACES, RoundingMode.HALF_UP);
    while (step.compareTo(tenth) > 0) {
      step = step.movePointLeft(1);
    }
    while (step.movePointRight(1).compareTo(tenth) <= 0) {
      step = step.movePointRight(1);
    }
    return step.stripTrailingZeros();
  }
}
