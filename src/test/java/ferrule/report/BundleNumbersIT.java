package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.HoursStore;
import ferrule.competency.Requirement;
import ferrule.glossary.ConceptId;
import ferrule.ledger.HeadSigner;
import ferrule.ledger.HeadStore;
import ferrule.ledger.LedgerStore;
import ferrule.people.Cohort;
import ferrule.report.bundle.BundleMaker;
import ferrule.report.bundle.Headway;
import ferrule.report.table.TablePages;
import ferrule.store.Database;
import java.io.ByteArrayInputStream;
import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.LinkedHashMap;
import java.util.LinkedHashSet;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Set;
import java.util.UUID;
import java.util.stream.Stream;
import java.util.zip.ZipEntry;
import java.util.zip.ZipInputStream;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

/** The tables of an accreditation bundle, leavers too, against the plain facts of a random history, on a past day too. */
class BundleNumbersIT {

  private RandomHistory history;
  private RawRecords raw;
  private AsOf asOf;
  private final Map<String, List<Map<String, String>>> tables = new LinkedHashMap<>();

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void everyTableIsThatOfThePlainFacts(Database database) throws IOException {
    history = RandomHistory.of(database, 81);
    raw = history.raw();
    int evidence = 0;
    for (Instant at : history.moments(1)) {
      asOf = history.desk().asOf(Optional.of(LocalDate.ofInstant(at, RandomHistory.ZONE).toString()));
      make(database);
      cohorts();
      apprentices();
      competencies();
      evidence += evidence();
      hours();
      grants();
      records();
    }
    assertTrue(evidence > 0, "nothing speaks for anything");
  }

  private void make(Database database) throws IOException {
    LedgerStore ledger = new LedgerStore(database);
    BundleMaker maker = new BundleMaker(
        history.desk(), new HoursStore(database), new EquivalenceStore(database, ledger), RandomHistory.TASKS, ledger,
        new HeadStore(database, HeadSigner.passing(), history.clock()), TablePages::pdf);
    ByteArrayOutputStream out = new ByteArrayOutputStream();
    maker.write(Optional.empty(), asOf, out, Headway.UNWATCHED);
    tables.clear();
    try (ZipInputStream zip = new ZipInputStream(new ByteArrayInputStream(out.toByteArray()))) {
      for (ZipEntry file = zip.getNextEntry(); file != null; file = zip.getNextEntry()) {
        if (file.getName().matches("data/.*\\.csv")) {
          String text = new String(zip.readAllBytes(), StandardCharsets.UTF_8);
          tables.put(file.getName().replaceAll("data/|\\.csv", ""), ServedHistory.csv(text));
        }
      }
    }
  }

  // -- the same from the facts

  /** Who had come by the day, once for each stay, also those who had left. */
  private List<RawRecords.Membership> members(Cohort cohort) {
    return raw.memberships.stream()
        .filter(m -> m.cohort().equals(cohort.id()) && (!asOf.past() || !m.joinedOn().isAfter(asOf.day()))).toList();
  }

  private boolean hasLeft(RawRecords.Membership m) {
    return m.leftOn().filter(day -> !day.isAfter(asOf.day())).isPresent();
  }

  private PlainStanding standing(Cohort cohort, UUID who) {
    return new PlainStanding(
        raw, who, PlainCohort.of(history, cohort, asOf).programme(), asOf.instant(), asOf.instant());
  }

  // -- what is held

  private void cohorts() {
    assertEquals(
        history.cohorts().stream().map(c -> c.id() + " " + PlainCohort.of(history, c, asOf).programme().edition() + " "
            + members(c).size()).sorted().toList(),
        tables.get("cohorts").stream()
            .map(r -> r.get("cohort id") + " " + r.get("edition") + " " + r.get("apprentices")).sorted().toList());
  }

  private void apprentices() {
    List<String> expected = new ArrayList<>();
    for (Cohort cohort : history.cohorts()) {
      for (RawRecords.Membership m : members(cohort)) {
        PlainStanding standing = standing(cohort, m.person());
        expected.add(cohort.title() + " " + m.person() + " " + m.joinedOn() + " " + m.leftOn().map(Object::toString).orElse("")
            + " " + standing.complete().size() + " "
            + PlainCohort.of(history, cohort, asOf).programme().competencies().size());
      }
    }
    assertEquals(
        expected.stream().sorted().toList(),
        tables.get("apprentices").stream().map(r -> r.get("cohort") + " " + r.get("apprentice id") + " "
            + r.get("joined on") + " " + r.get("left on") + " " + r.get("complete") + " " + r.get("competencies"))
            .sorted().toList());
  }

  private void competencies() {
    int cells = 0;
    for (Cohort cohort : history.cohorts()) {
      PlainCohort plain = PlainCohort.of(history, cohort, asOf);
      List<Map<String, String>> rows =
          tables.get("competencies").stream().filter(r -> r.get("cohort").equals(cohort.title())).toList();
      assertEquals(members(cohort).size() * plain.programme().competencies().size(), rows.size());
      for (RawRecords.Membership m : members(cohort)) {
        PlainStanding standing = standing(cohort, m.person());
        for (Competency c : plain.programme().competencies()) {
          Map<String, String> row = rows.stream()
              .filter(r -> r.get("apprentice id").equals(m.person().toString()) && r.get("competency id").equals(c.id()))
              .findFirst().orElseThrow();
          boolean complete = standing.isComplete(c.id());
          assertEquals(
              complete ? "complete" : standing.isLapsed(c) ? "lapsed" : standing.isBegun(c) ? "begun" : "not begun",
              row.get("state"), row.toString());
          assertEquals(Integer.toString(standing.told(c).steps()), row.get("steps missing"), row.toString());
          assertEquals(standing.told(c).sentence().strip(), row.get("what is missing"), row.toString());
          assertEquals(
              Boolean.toString(!complete && plain.isDue(c) && !hasLeft(m)), row.get("behind plan"), row.toString());
          assertEquals(hasLeft(m) ? m.leftOn().orElseThrow().toString() : "", row.get("left on"), row.toString());
          cells++;
        }
      }
    }
    assertEquals(cells, tables.get("competencies").size());
  }

  /** Everything that speaks for each competency: sign-offs, names, hours, what comes first, and prior learning. */
  private int evidence() {
    List<String> expected = new ArrayList<>();
    for (Cohort cohort : history.cohorts()) {
      for (RawRecords.Membership m : members(cohort)) {
        PlainStanding standing = standing(cohort, m.person());
        for (Competency c : PlainCohort.of(history, cohort, asOf).programme().competencies()) {
          String whose = cohort.title() + " " + m.person() + " " + c.id() + " ";
          standing.speaking(c).forEach(w -> expected.add(whose + signOff(w)));
          beside(standing, c).forEach(what -> expected.add(whose + what));
          grant(m.person(), c).ifPresent(g ->
              expected.add(whose + "prior learning||" + g.grant() + "|Seen at another bench.||" + whole(g.at())));
        }
      }
    }
    assertEquals(
        expected.stream().sorted().toList(),
        tables.get("evidence").stream().map(r -> String.join(
            " ", r.get("cohort"), r.get("apprentice id"), r.get("competency id"), String.join(
                "|", r.get("kind"), r.get("record"), r.get("record id"), r.get("what"), r.get("standing"),
                r.get("at (UTC)").isEmpty() ? "" : whole(Instant.parse(r.get("at (UTC)"))).toString()))).sorted().toList());
    return expected.size();
  }

  private static Instant whole(Instant at) {
    return at.truncatedTo(ChronoUnit.SECONDS);
  }

  private static String signOff(PlainStanding.Work work) {
    return String.join(
        "|", "sign-off", Long.toString(work.number()), work.record().toString(),
        RandomHistory.TASKS.find(work.task()).orElseThrow().title() + ", on " + work.tag(), work.standing().word(),
        whole(work.at()).toString());
  }

  /** How many parts were named, how long they were at the bench, and whether what comes first is complete. */
  private static Set<String> beside(PlainStanding standing, Competency c) {
    Set<String> beside = new LinkedHashSet<>();
    int minutes = 0;
    for (Requirement rule : c.requires().all().toList()) {
      if (rule instanceof Requirement.Names n) {
        beside.add(named(standing, n.assembly(), n.term()));
      } else if (rule instanceof Requirement.Known k) {
        beside.add(named(standing, k.scope(), k.term()));
      } else if (rule instanceof Requirement.Hours h) {
        minutes = Math.max(minutes, standing.minutes(h));
      } else if (rule instanceof Requirement.Holds h) {
        beside.add("competency before|||" + h.title()
            + (standing.isComplete(h.competency()) ? ": complete||" : ": not complete||"));
      }
    }
    if (minutes > 0) {
      beside.add("hours|||" + PlainGap.time(minutes) + " at the bench||");
    }
    return beside;
  }

  private static String named(PlainStanding standing, ConceptId assembly, String term) {
    PlainStanding.Named named = standing.named(assembly);
    return "names|||" + term + ": " + named.right() + " of " + named.of() + " parts named right when last asked||";
  }

  /** The last prior learning that stands in for it on the day. */
  private Optional<RawRecords.Granted> grant(UUID who, Competency c) {
    return raw.granted.stream()
        .filter(g -> g.apprentice().equals(who) && g.competency().equals(c.id()) && isGranted(g))
        .filter(g -> g.until().filter(asOf.day()::isAfter).isEmpty()).reduce((earlier, later) -> later);
  }

  private boolean isGranted(RawRecords.Granted g) {
    return !g.at().isAfter(asOf.instant()) && raw.grantsWithdrawn.stream()
        .noneMatch(w -> w.grant().equals(g.grant()) && !w.at().isAfter(asOf.instant()));
  }

  private Set<UUID> everMembers() {
    Set<UUID> ever = new HashSet<>();
    history.cohorts().forEach(c -> members(c).forEach(m -> ever.add(m.person())));
    return ever;
  }

  /** Each entry once, also of somebody who was in two cohorts. */
  private void hours() {
    Set<UUID> ever = everMembers();
    List<String> expected = raw.hours.stream()
        .filter(h -> ever.contains(h.apprentice()) && !h.at().isAfter(asOf.instant()) && h.minutes() > 0)
        .filter(h -> raw.hours.stream().noneMatch(c ->
            c.corrects().filter(h.entry()::equals).isPresent() && !c.at().isAfter(asOf.instant())))
        .map(h -> h.apprentice() + " " + h.day() + " " + h.minutes()).sorted().toList();
    assertEquals(expected, tables.get("hours").stream()
        .map(r -> r.get("apprentice id") + " " + r.get("day") + " " + Duration.parse(r.get("time")).toMinutes())
        .sorted().toList());
  }

  private void grants() {
    Set<UUID> ever = everMembers();
    List<String> expected = raw.granted.stream()
        .filter(g -> ever.contains(g.apprentice()) && isGranted(g))
        .map(g -> g.apprentice() + " " + g.competency() + " " + g.until().map(Object::toString).orElse("")).sorted().toList();
    assertEquals(expected, tables.get("prior-learning").stream()
        .map(r -> r.get("apprentice id") + " " + r.get("competency id") + " " + r.get("until")).sorted().toList());
  }

  /** The log is always whole, whatever the day. */
  private void records() {
    List<String> signed = raw.signed.stream().map(s -> s.number() + " "
        + (s.corrects().isPresent() ? "correction" : "sign-off") + " " + s.record() + " " + s.grade().apprentice() + " "
        + s.corrects().map(UUID::toString).orElse("")).sorted().toList();
    assertEquals(signed, tables.get("records").stream()
        .filter(r -> Set.of("sign-off", "correction").contains(r.get("kind")))
        .map(r -> r.get("record") + " " + r.get("kind") + " " + r.get("record id") + " " + r.get("apprentice id") + " "
            + r.get("supersedes")).sorted().toList());
    Stream.of(Map.entry("withdrawal", raw.withdrawn.size()), Map.entry("second-signature", raw.seconded.size()))
        .forEach(kind -> assertEquals(
            (long) kind.getValue(), tables.get("records").stream().filter(r -> r.get("kind").equals(kind.getKey())).count()));
  }
}
