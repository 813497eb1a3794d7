package ferrule.report;

import ferrule.competency.BenchHours;
import ferrule.drill.MixUp;
import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.people.Person;
import ferrule.report.table.Kind;
import ferrule.report.table.TableDefinition;
import java.time.Duration;
import java.time.LocalDate;
import java.util.Locale;
import java.util.Optional;

/** The people, their hours at the bench and what they mix up, as tables. */
public final class SchoolTables {

  /**
   * Somebody who is or was here.
   *
   * @param cohort of an apprentice
   */
  public record PersonLine(Person person, Optional<Cohort> cohort, Optional<LocalDate> joined, Optional<LocalDate> left) {

    static PersonLine of(Cohort cohort, Member member) {
      return new PersonLine(member.person(), Optional.of(cohort), Optional.of(member.joinedOn()), member.leftOn());
    }

    static PersonLine ofStaff(Person person) {
      return new PersonLine(person, Optional.empty(), Optional.empty(), person.leftOn());
    }
  }

  /** The people. */
  public static final TableDefinition<PersonLine> PEOPLE =
      TableDefinition.<PersonLine>of("people", "People", "An apprentice in a cohort, an instructor or a coordinator.")
          .with("name", Kind.TEXT, "Their full name.", l -> l.person().fullName())
          .with("role", Kind.TEXT, "apprentice, instructor or coordinator.",
              l -> l.person().role().name().toLowerCase(Locale.ROOT))
          .withIfAny("cohort", Kind.TEXT, "The title of an apprentice's cohort.", l -> l.cohort().map(Cohort::title))
          .withIfAny("joined on", Kind.DATE, "Their first day in it.", PersonLine::joined)
          .withIfAny("left on", Kind.DATE, "The day on which they left, if they did.", PersonLine::left)
          .with("sign-in name", Kind.TEXT, "The name that they sign in with.", l -> l.person().signInName())
          .inFiles("person id", Kind.TEXT, "Names the person in every table.", l -> l.person().id().toString());

  /** An entry of hours. */
  public record HoursLine(Cohort cohort, Person apprentice, BenchHours hours) {}

  /** Hours at the bench. */
  public static final TableDefinition<HoursLine> HOURS =
      TableDefinition.<HoursLine>of("hours", "Hours at the bench", "An entry of time at the bench that counts.")
          .with("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .inFiles("apprentice id", Kind.TEXT, "Names the apprentice in every table.", l -> l.apprentice().id().toString())
          .with("apprentice", Kind.TEXT, "Their full name.", l -> l.apprentice().fullName())
          .with("day", Kind.DATE, "On which day.", l -> l.hours().day())
          .with("time", Kind.DURATION, "How long.", l -> Duration.ofMinutes(l.hours().minutes()))
          .with("what", Kind.TEXT, "What was done; may be an empty text.", l -> l.hours().what())
          .with("entered by", Kind.TEXT, "Who entered it.", l -> l.hours().enteredByName())
          .with("entered", Kind.INSTANT, "When it was entered.", l -> l.hours().enteredAt())
          .with("correction", Kind.FLAG, "Whether it took the place of an earlier entry.",
              l -> l.hours().corrects().isPresent());

  /** A part that was taken for another. */
  public record MixUpLine(String asked, String takenFor, MixUp mixUp) {}

  /** What is mixed up. */
  public static final TableDefinition<MixUpLine> MIX_UPS =
      TableDefinition.<MixUpLine>of("mix-ups", "What the class mixes up", "A part that was taken for another in drills.")
          .inFiles("asked id", Kind.TEXT, "Names the part that was asked, in the glossary.",
              l -> l.mixUp().asked().value())
          .with("asked", Kind.TEXT, "The part that was lit or named.", MixUpLine::asked)
          .inFiles("taken for id", Kind.TEXT, "Names the other part, in the glossary.", l -> l.mixUp().takenFor().value())
          .with("taken for", Kind.TEXT, "The part that was named or pointed at instead.", MixUpLine::takenFor)
          .with("times", Kind.COUNT, "How often.", l -> l.mixUp().times())
          .with("people", Kind.COUNT, "By how many apprentices.", l -> l.mixUp().people());

  private SchoolTables() {}
}
