package ferrule.app;

import ferrule.competency.BenchHours;
import ferrule.competency.EditionStore;
import ferrule.competency.Equivalence;
import ferrule.competency.EquivalenceStore;
import ferrule.competency.HoursStore;
import ferrule.competency.Programme;
import ferrule.competency.ProgrammeReader;
import ferrule.people.Person;
import java.io.IOException;
import java.io.InputStream;
import java.io.UncheckedIOException;
import java.nio.charset.StandardCharsets;
import java.time.DayOfWeek;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneOffset;
import java.time.temporal.TemporalAdjusters;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.Random;
import java.util.UUID;

/**
 * Of the invented demo programme: the older edition that its second year is on, evenings at the bench of which one was
 * entered wrong and corrected, and what one apprentice had learned elsewhere.
 */
final class DemoCompetency {

  private static final String OLDER = "/demo/programme-of-february.yaml";
  private static final LocalTime MORNING = LocalTime.of(9, 0);
  private static final int EVENING = 180;
  private static final long SEED = 61;

  private final Installation installation;
  private final Person instructor;
  private final DemoTerms terms;
  private final Random random = new Random(SEED);

  DemoCompetency(Installation installation, Person instructor, DemoTerms terms) {
    this.installation = installation;
    this.instructor = instructor;
    this.terms = terms;
  }

  /** Keeps the older edition and today's, and returns the older. */
  Programme keepEditions() {
    Programme today = installation.books().programme();
    Map<String, String> titles = new HashMap<>(today.titles());
    Programme older = ProgrammeReader.kept(text(), titles);
    EditionStore editions = installation.editions();
    editions.keep(older, terms.at(2026, 1, 26, MORNING));
    editions.keep(today, terms.at(2026, 8, 31, MORNING));
    return older;
  }

  private static String text() {
    try (InputStream in = DemoCompetency.class.getResourceAsStream(OLDER)) {
      return new String(in.readAllBytes(), StandardCharsets.UTF_8);
    } catch (IOException e) {
      throw new UncheckedIOException("the demo's older programme cannot be read", e);
    }
  }

  /** Enters evenings at the bench for both cohorts, and prior learning for one apprentice. */
  void fill(List<Person> firstYear, LocalDate firstYearStarts, List<Person> secondYear, LocalDate secondYearStarts) {
    List<BenchHours> entries = new ArrayList<>();
    evenings(entries, firstYear, firstYearStarts, DayOfWeek.TUESDAY);
    evenings(entries, firstYear, firstYearStarts, DayOfWeek.THURSDAY);
    evenings(entries, secondYear, secondYearStarts, DayOfWeek.TUESDAY);
    BenchHours wrong = session(secondYear.get(1), terms.lastEvening(), 10 * EVENING / 3, Optional.empty(), "");
    entries.add(wrong);
    entries.add(session(
        secondYear.get(1), terms.lastEvening(), 150, Optional.of(wrong.id()), "Ten hours were typed for one evening."));
    new HoursStore(installation.database()).add(entries);
    new EquivalenceStore(installation.database(), installation.ledger()).grant(new Equivalence(
        DemoProgramme.id("prior learning"), firstYear.get(2).id(), "slide-fitting",
        "Two years in a repair shop before; the reference was read, and two slides were fitted before me.",
        instructor.id(), instructor.fullName(), terms.lastEvening().atTime(20, 30).toInstant(ZoneOffset.UTC), Optional.empty()));
  }

  private void evenings(List<BenchHours> entries, List<Person> cohort, LocalDate from, DayOfWeek evening) {
    LocalDate first = from.with(TemporalAdjusters.nextOrSame(evening));
    for (LocalDate day = first; !day.isAfter(terms.lastEvening()); day = day.plusWeeks(1)) {
      for (Person apprentice : cohort) {
        boolean there = random.nextInt(10) < 8 && apprentice.leftOn().filter(day::isAfter).isEmpty();
        if (there) {
          entries.add(session(apprentice, day, EVENING, Optional.empty(), ""));
        }
      }
    }
  }

  private BenchHours session(Person apprentice, LocalDate day, int minutes, Optional<UUID> corrects, String reason) {
    int minute = corrects.isPresent() ? 40 : 30;
    return new BenchHours(
        UUID.randomUUID(), apprentice.id(), day, minutes, "", instructor.id(), instructor.fullName(),
        day.atTime(20, minute).toInstant(ZoneOffset.UTC), corrects, reason);
  }
}
