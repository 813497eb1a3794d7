package ferrule.report;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.Programme;
import ferrule.competency.Requirement;
import ferrule.people.Cohort;
import ferrule.people.Person;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;

/**
 * One apprentice at a moment, as a page of theirs is to tell it, from {@linkplain RawRecords plain facts}: judged by the
 * edition of the cohort that they were in then, and by its plan unless they had left.
 */
final class PlainPerson {

  private final RandomHistory history;
  private final Person who;
  private final AsOf asOf;
  private final RawRecords.Membership stay;
  private final Cohort cohort;
  private final Programme programme;
  private final PlainStanding standing;
  private final Set<String> complete;

  PlainPerson(RandomHistory history, Person who, AsOf asOf) {
    this.history = history;
    this.who = who;
    this.asOf = asOf;
    stay = stay();
    cohort = history.cohorts().stream().filter(c -> c.id().equals(stay.cohort())).findFirst().orElseThrow();
    programme = PlainCohort.of(history, cohort, asOf).programme();
    standing = new PlainStanding(history.raw(), who.id(), programme, asOf.instant(), asOf.instant());
    complete = standing.complete();
  }

  /** The last that they had begun by the day, one that was not over before any that was. */
  private RawRecords.Membership stay() {
    RawRecords.Membership found = null;
    for (RawRecords.Membership m : history.raw().memberships) {
      if (m.person().equals(who.id()) && !m.joinedOn().isAfter(asOf.day())) {
        boolean later = found == null || m.joinedOn().isAfter(found.joinedOn());
        if (found == null || (isOver(found) == isOver(m) ? later : isOver(found))) {
          found = m;
        }
      }
    }
    return found;
  }

  private boolean isOver(RawRecords.Membership m) {
    return m.leftOn().filter(day -> !day.isAfter(asOf.day())).isPresent();
  }

  Person who() {
    return who;
  }

  AsOf asOf() {
    return asOf;
  }

  Programme programme() {
    return programme;
  }

  /** The ids of what is complete. */
  Set<String> complete() {
    return complete;
  }

  boolean isComplete(Competency c) {
    return complete.contains(c.id());
  }

  /** The cohort by whose plan they go, unless they left. */
  Optional<Cohort> cohort() {
    return isOver(stay) ? Optional.empty() : Optional.of(cohort);
  }

  /** The first day that counts of their time there. */
  LocalDate since() {
    return stay.joinedOn().isAfter(cohort.startsOn()) ? stay.joinedOn() : cohort.startsOn();
  }

  PlainWays.Told told(Competency c) {
    return standing.told(c);
  }

  int stepsLeft() {
    return new PlainWays(programme, standing).stepsLeft();
  }

  /** How many steps the programme asks of somebody who has nothing but the same prior learning. */
  int stepsAtStart() {
    RawRecords nothingElse = new RawRecords();
    nothingElse.granted.addAll(history.raw().granted);
    nothingElse.grantsWithdrawn.addAll(history.raw().grantsWithdrawn);
    return new PlainWays(
        programme, new PlainStanding(nothingElse, who.id(), programme, asOf.instant(), asOf.instant())).stepsLeft();
  }

  Optional<LocalDate> due(Competency c) {
    return cohort().filter(in -> c.week().isPresent())
        .map(in -> in.startsOn().plusDays(7L * c.week().getAsInt() - 1));
  }

  boolean isDue(Competency c) {
    return due(c).filter(asOf.day()::isAfter).isPresent();
  }

  /** How they stand in a competency, in a word. */
  String word(Competency c) {
    return isComplete(c) ? "complete" : told(c).isLapsed() ? "lapsed"
        : standing.isBegun(c) ? "begun" : "not begun";
  }

  /** What is missing, each as the beginning of a sentence. */
  List<String> missing(Competency c) {
    return told(c).missing().stream().map(PlainGap::words).map(PlainPerson::capital).toList();
  }

  private static String capital(String words) {
    return words.substring(0, 1).toUpperCase() + words.substring(1);
  }

  /** The sign-offs that count, each in words. */
  List<String> works(Competency c) {
    return standing.speaking(c).stream().map(w -> "Record " + w.number() + ", " + day(w.at()) + ": " + w.standing().word() + " work on "
        + w.tag() + ", signed by " + name(w)).toList();
  }

  private String name(PlainStanding.Work work) {
    return history.instructors().stream().filter(i -> i.id().equals(work.instructor())).findFirst().orElseThrow().fullName();
  }

  static String day(Instant at) {
    return PlainGap.DAY.format(LocalDate.ofInstant(at, RandomHistory.ZONE));
  }

  /** What speaks for a competency beside sign-offs, in words. */
  List<String> evidence(Competency c) {
    List<String> evidence = new ArrayList<>();
    grant(c).ifPresent(g -> evidence.add(
        "Prior learning, entered by Invented Magnus on " + day(g.at()) + ": Seen at another bench."));
    Set<String> before = new LinkedHashSet<>();
    Map<String, String> names = new LinkedHashMap<>();
    int minutes = 0;
    for (Requirement rule : c.requires().all().toList()) {
      if (rule instanceof Requirement.Holds h) {
        before.add("“" + h.title() + "” " + (complete.contains(h.competency()) ? "complete" : "not complete yet"));
      } else if (rule instanceof Requirement.Names n) {
        named(standing.named(n.assembly()), n.term()).ifPresent(words -> names.putIfAbsent(n.term(), words));
      } else if (rule instanceof Requirement.Known k) {
        named(standing.named(k.scope()), k.term()).ifPresent(words -> names.putIfAbsent(k.term(), words));
      } else if (rule instanceof Requirement.Hours h) {
        minutes = Math.max(minutes, standing.minutes(h));
      }
    }
    evidence.addAll(before);
    evidence.addAll(names.values());
    if (minutes > 0) {
      evidence.add(PlainGap.time(minutes) + " at the bench");
    }
    return evidence;
  }

  private static Optional<String> named(PlainStanding.Named named, String term) {
    return named.right() == 0 ? Optional.empty()
        : Optional.of(named.right() + " of " + named.of() + " parts of the " + term + " named right when last asked");
  }

  private Optional<RawRecords.Granted> grant(Competency c) {
    RawRecords.Granted last = null;
    for (RawRecords.Granted grant : grants()) {
      boolean over = grant.until().filter(asOf.day()::isAfter).isPresent();
      last = grant.competency().equals(c.id()) && !over ? grant : last;
    }
    return Optional.ofNullable(last);
  }

  /** Their prior learning that was entered by then and not withdrawn. */
  List<RawRecords.Granted> grants() {
    return history.raw().granted.stream()
        .filter(g -> g.apprentice().equals(who.id()) && !g.at().isAfter(asOf.instant()))
        .filter(g -> history.raw().grantsWithdrawn.stream()
            .noneMatch(w -> w.grant().equals(g.grant()) && !w.at().isAfter(asOf.instant())))
        .toList();
  }

  /** Their hours that count, in the order in which they were entered. */
  List<RawRecords.Hours> hours() {
    return history.raw().hours.stream()
        .filter(h -> h.apprentice().equals(who.id()) && !h.at().isAfter(asOf.instant()) && h.minutes() > 0)
        .filter(h -> history.raw().hours.stream()
            .noneMatch(c -> c.corrects().filter(h.entry()::equals).isPresent() && !c.at().isAfter(asOf.instant())))
        .toList();
  }
}
