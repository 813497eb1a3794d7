package ferrule.competency;

import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.Optional;
import java.util.OptionalDouble;

/**
 * How far somebody has come on their way through a programme, counted in steps: sign-offs, assemblies whose names are
 * practised, and evenings at the bench, those that serve for several competencies once.
 *
 * @param done steps taken, from their first day in the cohort on; what prior learning stands in for is none
 * @param left steps that are left
 * @param since their first day
 * @param day the day of the look
 */
public record Course(int done, int left, LocalDate since, LocalDate day) {

  /** Fewer steps done tell nothing about a rate: our own limit, no source. */
  public static final int ENOUGH_STEPS = 5;
  /** Fewer days tell nothing about a rate: our own limit, no source. */
  public static final int ENOUGH_DAYS = 28;
  /** The chance that a date before or after the interval turns out to be right, on either side. */
  public static final double TAIL = 0.1;

  private static final long FURTHEST = 3_653;

  /** Checks that no count is negative. */
  public Course {
    if (done < 0 || left < 0) {
      throw new IllegalArgumentException("steps are counted from 0; given: " + done + " done, " + left + " left");
    }
  }

  /**
   * The course of somebody who stands so.
   *
   * @param atStart how many steps the programme asks of somebody with nothing but the same prior learning
   */
  static Course of(Progress progress, int atStart, LocalDate since, LocalDate day) {
    int left = progress.stepsLeft();
    return new Course(Math.max(0, atStart - left), left, since, day);
  }

  /** How many days they have been at it, today included; 0 before their first day. */
  public long days() {
    return Math.max(0, ChronoUnit.DAYS.between(since, day) + 1);
  }

  /** Steps in a week by now; empty before their first day. */
  public OptionalDouble perWeek() {
    return days() == 0 ? OptionalDouble.empty() : OptionalDouble.of(7.0 * done / days());
  }

  /** Steps in a week that it takes from now on to be done by the end of a day; empty if that day is not to come. */
  public OptionalDouble neededPerWeek(LocalDate end) {
    long within = ChronoUnit.DAYS.between(day, end);
    return within <= 0 ? OptionalDouble.empty() : OptionalDouble.of(7.0 * left / within);
  }

  /** When it will be done; empty if it is, or if too little was done to tell. */
  public Optional<Forecast> forecast() {
    return left == 0 || done < ENOUGH_STEPS || days() < ENOUGH_DAYS ? Optional.empty()
        : Optional.of(new Forecast(done, left, days()));
  }

  /**
   * The days on which it may be done.
   *
   * @param earliest before which it will be with a chance of one in ten
   * @param middle before which it will be as likely as after
   * @param latest after which it will be with a chance of one in ten; no day if that lies more than ten years ahead
   */
  public record Projection(LocalDate earliest, LocalDate middle, Optional<LocalDate> latest) {}

  /** The days on which it may be done; empty where there is no {@linkplain #forecast forecast}, or none within ten years. */
  public Optional<Projection> projection() {
    return forecast().flatMap(f -> day(f, 0.5).map(
        middle -> new Projection(day(f, TAIL).orElse(middle), middle, day(f, 1 - TAIL))));
  }

  private Optional<LocalDate> day(Forecast forecast, double chance) {
    double days = Math.ceil(forecast.daysUntil(chance));
    return days > FURTHEST ? Optional.empty() : Optional.of(day.plusDays((long) days));
  }

  /** The chance that it is done by the end of a day, 0 to 1; 1 if it is done; empty if too little was done to tell. */
  public OptionalDouble chanceBy(LocalDate end) {
    if (left == 0) {
      return OptionalDouble.of(1);
    }
    return forecast().map(f -> OptionalDouble.of(f.chanceWithin(ChronoUnit.DAYS.between(day, end))))
        .orElse(OptionalDouble.empty());
  }
}
