package ferrule.report;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.competency.AsOf;
import ferrule.competency.Competency;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.HoursStore;
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

  private Cohort cohort(String title) {
    return history.cohorts().stream().filter(c -> c.title().equals(title)).findFirst().orElseThrow();
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
          assertEquals(complete, row.get("state").equals("complete"), row.toString());
          assertEquals(complete, row.get("steps missing").equals("0"), row.toString());
          assertEquals(
              Boolean.toString(!complete && plain.isDue(c) && !hasLeft(m)), row.get("behind plan"), row.toString());
          assertEquals(hasLeft(m) ? m.leftOn().orElseThrow().toString() : "", row.get("left on"), row.toString());
          cells++;
        }
      }
    }
    assertEquals(cells, tables.get("competencies").size());
  }

  /** What speaks for a competency by a signature: as many as its line says, each a work of theirs that counts. */
  private int evidence() {
    Map<String, Integer> found = new LinkedHashMap<>();
    int all = 0;
    for (Map<String, String> row : tables.get("evidence")) {
      if (row.get("kind").equals("sign-off")) {
        PlainStanding.Work work = standing(cohort(row.get("cohort")), UUID.fromString(row.get("apprentice id"))).works()
            .stream().filter(w -> Long.toString(w.number()).equals(row.get("record"))).findFirst().orElseThrow();
        assertEquals(work.record().toString(), row.get("record id"));
        assertEquals(work.standing().word(), row.get("standing"));
        assertEquals(work.at().truncatedTo(ChronoUnit.SECONDS), Instant.parse(row.get("at (UTC)")).truncatedTo(ChronoUnit.SECONDS));
        assertTrue(row.get("what").endsWith("on " + work.tag()), row.toString());
        found.merge(row.get("cohort") + row.get("apprentice id") + row.get("competency id"), 1, Integer::sum);
        all++;
      } else if (row.get("kind").equals("prior learning")) {
        assertTrue(
            raw.granted.stream().anyMatch(g -> g.grant().toString().equals(row.get("record id"))
                && g.competency().equals(row.get("competency id"))), row.toString());
      }
    }
    for (Map<String, String> row : tables.get("competencies")) {
      String key = row.get("cohort") + row.get("apprentice id") + row.get("competency id");
      assertEquals(row.get("sign-offs that count"), Integer.toString(found.getOrDefault(key, 0)), row.toString());
    }
    return all;
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
        .filter(g -> ever.contains(g.apprentice()) && !g.at().isAfter(asOf.instant()))
        .filter(g -> raw.grantsWithdrawn.stream().noneMatch(w -> w.grant().equals(g.grant()) && !w.at().isAfter(asOf.instant())))
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
