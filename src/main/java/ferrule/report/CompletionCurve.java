package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Desk;
import ferrule.competency.Pace;
import ferrule.competency.Programme;
import ferrule.people.Cohort;
import ferrule.people.Membership;
import ferrule.people.Role;
import java.nio.charset.StandardCharsets;
import java.security.MessageDigest;
import java.security.NoSuchAlgorithmException;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.TreeMap;
import java.util.UUID;
import java.util.concurrent.ConcurrentHashMap;
import java.util.concurrent.Executor;
import java.util.concurrent.Executors;
import java.util.stream.Collectors;

/**
 * How a cohort came along: its figures at the end of each week of its programme, each as it stood then, by the edition that it
 * was on then, of those who were there then.
 *
 * <p>A week that is over is judged once and kept, together with what it rests on; it is judged anew only if that has
 * changed: somebody's leaving entered late, an answer that came in late, another edition of the curriculum. Judging a large
 * cohort takes a second for each week, so that not all may be ready when they are first asked for: {@link #missing}.
 *
 * @param cohort whose
 * @param weeks ascending, those that are known and in which somebody was there
 * @param missing how many weeks are still to be worked out
 */
public record CompletionCurve(Cohort cohort, List<CohortWeek> weeks, int missing) {

  // an entry that was being written when the week ended is there by then
  private static final Duration SETTLED = Duration.ofHours(1);

  private static final Duration ASIDE = Duration.ofMinutes(10);

  /** Copies the list. */
  public CompletionCurve {
    weeks = List.copyOf(weeks);
  }

  /** The week of the cohort's programme, from 1, of which a day is the last; 0 is the day before it began. */
  public static int weekOf(Cohort cohort, LocalDate day) {
    return Math.toIntExact(Math.round((day.toEpochDay() - cohort.startsOn().toEpochDay() + 1) / 7.0));
  }

  /** The share of an edition's competencies that the plan asks for by the end of each week up to one, from week 0. */
  public static List<Double> plan(Cohort cohort, Programme programme, int weeks) {
    List<Double> plan = new ArrayList<>();
    List<Competency> all = programme.competencies();
    for (int week = 0; week <= weeks; week++) {
      LocalDate day = cohort.startsOn().plusWeeks(week).minusDays(1);
      long due = all.stream().filter(c -> Pace.of(cohort).due(c).filter(d -> !d.isAfter(day)).isPresent()).count();
      plan.add(all.isEmpty() ? 0 : (double) due / all.size());
    }
    return plan;
  }

  /** Works out curves, from what is kept where that still holds. */
  static final class Maker {

    private final Desk desk;
    private final CohortWeekStore store;
    private final String curriculum;
    private final Set<UUID> atWork = ConcurrentHashMap.newKeySet();
    private final Executor aside = Executors.newSingleThreadExecutor(work -> {
      Thread thread = new Thread(work, "completion-curves");
      thread.setDaemon(true);
      thread.setPriority(Thread.MIN_PRIORITY);
      return thread;
    });

    /**
     * A maker.
     *
     * @param curriculum its edition, on which it depends how names are counted
     */
    Maker(Desk desk, CohortWeekStore store, String curriculum) {
      this.desk = desk;
      this.store = store;
      this.curriculum = curriculum;
    }

    /**
     * The curve of a cohort up to a moment. What is not ready in time is worked out aside, one cohort after the other.
     *
     * @param most how long to judge weeks that are not known, the latest first; at least one is judged
     */
    CompletionCurve curve(Cohort cohort, AsOf asOf, Duration most) {
      CompletionCurve curve = inTime(cohort, asOf, most);
      if (curve.missing() > 0 && atWork.add(cohort.id())) {
        aside.execute(() -> {
          try {
            inTime(cohort, asOf, ASIDE);
          } finally {
            atWork.remove(cohort.id());
          }
        });
      }
      return curve;
    }

    private CompletionCurve inTime(Cohort cohort, AsOf asOf, Duration most) {
      List<Membership> members = desk.people().memberships(cohort.id()).stream()
          .filter(m -> m.role() == Role.APPRENTICE).toList();
      TreeMap<Long, Integer> answers = store.answersByDay(members.stream().map(Membership::person).toList());
      Map<LocalDate, CohortWeekStore.Kept> kept = store.weeks(cohort.id());
      Map<LocalDate, Optional<CohortWeek>> found = new TreeMap<>();
      int missing = 0;
      long until = System.nanoTime() + most.toNanos();
      boolean judged = false;
      for (LocalDate day : days(cohort, asOf)) {
        Instant end = day.isBefore(asOf.day()) ? AsOf.endOf(day, desk.zone()) : asOf.instant();
        String basis = basis(cohort, day, end, members, answers);
        Optional<CohortWeekStore.Kept> known =
            Optional.ofNullable(kept.get(day)).filter(k -> k.basis().equals(basis));
        if (known.isPresent()) {
          found.put(day, known.get().week());
        } else if (!judged || System.nanoTime() < until) {
          judged = true;
          Optional<CohortWeek> week = judge(cohort, day, end, members);
          found.put(day, week);
          if (end.plus(SETTLED).isBefore(desk.clock().instant()) && day.isBefore(asOf.day())) {
            store.keep(cohort.id(), day, new CohortWeekStore.Kept(basis, week));
          }
        } else {
          missing++;
        }
      }
      return new CompletionCurve(cohort, found.values().stream().flatMap(Optional::stream).toList(), missing);
    }

    /** The last days of the weeks of its programme up to a moment, the latest first. */
    private static List<LocalDate> days(Cohort cohort, AsOf asOf) {
      List<LocalDate> days = new ArrayList<>();
      LocalDate last = cohort.endsOn().isBefore(asOf.day()) ? cohort.endsOn() : asOf.day();
      for (LocalDate day = cohort.startsOn().plusDays(6); !day.isAfter(last); day = day.plusWeeks(1)) {
        days.add(0, day);
      }
      return days;
    }

    private Optional<CohortWeek> judge(Cohort cohort, LocalDate day, Instant end, List<Membership> members) {
      List<UUID> there = there(members, day);
      Programme programme = desk.competencies().programmeOfCohort(cohort.id(), end);
      return CohortWeek.of(
          day, programme.competencies().size(), desk.competencies().of(there, end, programme).values());
    }

    private static List<UUID> there(List<Membership> members, LocalDate day) {
      return members.stream().filter(m -> m.holdsOn(day)).map(Membership::person).toList();
    }

    private String basis(
        Cohort cohort, LocalDate day, Instant end, List<Membership> members, TreeMap<Long, Integer> answers) {
      Map.Entry<Long, Integer> given = answers.floorEntry(CohortWeekStore.dayOf(end));
      String text = desk.competencies().programmeOfCohort(cohort.id(), end).edition() + "\n" + curriculum + "\n" + end + "\n"
          + (given == null ? 0 : given.getValue()) + "\n"
          + there(members, day).stream().map(UUID::toString).collect(Collectors.joining(" "));
      try {
        return HexFormat.of().formatHex(
            MessageDigest.getInstance("SHA-256").digest(text.getBytes(StandardCharsets.UTF_8)));
      } catch (NoSuchAlgorithmException e) {
        throw new IllegalStateException("every Java has SHA-256", e);
      }
    }
  }
}
