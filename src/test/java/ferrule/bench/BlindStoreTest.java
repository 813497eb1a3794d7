package ferrule.bench;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertInstanceOf;
import static org.junit.jupiter.api.Assertions.assertTrue;

import ferrule.people.PeopleStore;
import ferrule.people.Person;
import ferrule.people.Role;
import ferrule.store.Database;
import java.time.Clock;
import java.time.Instant;
import java.time.ZoneOffset;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.UUID;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;

class BlindStoreTest {

  private static final Clock CLOCK = Clock.fixed(Instant.parse("2026-11-25T12:00:00Z"), ZoneOffset.UTC);

  private final Person apprentice = person("apprentice", Role.APPRENTICE);
  private final Person first = person("first", Role.INSTRUCTOR);
  private final Person second = person("second", Role.INSTRUCTOR);

  private static Person person(String name, Role role) {
    return new Person(UUID.randomUUID(), name, "Invented " + name, role, Optional.empty());
  }

  @ParameterizedTest
  @MethodSource("ferrule.store.RealDatabases#each")
  void bothGradersFindingsStandSideBySideForEachCriterion(Database database) {
    try (database) {
      PeopleStore people = new PeopleStore(database, CLOCK);
      List.of(apprentice, first, second).forEach(p -> people.add(p, Optional.empty(), Optional.empty()));
      BenchStore bench = new BenchStore(database, CLOCK);
      BlindStore blind = new BlindStore(database, CLOCK);
      Entries entries = Samples.soundWaterKey();
      Draft draft = bench.open(first.id(), apprentice.id(), Samples.WATER_KEY, "T-07", entries, Optional.empty());
      Grade grade = Samples.soundGrade(apprentice.id(), "T-07");
      UUID work =
          assertInstanceOf(
                  Signing.Signed.class,
                  new RecordStore(database, CLOCK).sign(draft, grade, first, Samples.TASKS.edition()))
              .entry().id();
      assertEquals(List.of(), blind.blindGrades(), "work that one instructor graded tells nothing of agreement");

      Entries stricter =
          new Entries(
              true, Map.of("cup-clean", 2, "fit-in-cup", 4, "seat", 4, "seal", 2, "spring", 4),
              entries.readings(), entries.lowers(), entries.uppers(), "", "");
      Draft again = bench.open(second.id(), apprentice.id(), Samples.WATER_KEY, "T-07", stricter, Optional.empty());
      Grade secondGrade = Grade.of(apprentice.id(), apprentice.fullName(), Samples.waterKey(), "T-07", stricter);
      assertTrue(blind.keep(work, second.id(), again.id(), secondGrade));
      assertFalse(blind.keep(work, second.id(), again.id(), secondGrade), "once by each grader");

      List<BlindGrade> grades = blind.blindGrades();
      assertEquals(2 * Samples.waterKey().criteria().size(), grades.size());
      assertEquals(
          List.of(first.fullName() + " 3", second.fullName() + " 2"),
          grades.stream()
              .filter(g -> g.finding() instanceof Finding.Rated r && r.criterion().equals("cup-clean"))
              .map(g -> g.graderName() + " " + ((Finding.Rated) g.finding()).level())
              .toList());
      assertEquals(2, grades.stream().filter(g -> g.finding() instanceof Finding.Measured).count());
      assertTrue(grades.stream().allMatch(g -> g.work().equals(work) && g.first() == g.grader().equals(first.id())));
    }
  }
}
