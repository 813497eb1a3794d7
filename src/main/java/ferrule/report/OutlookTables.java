package ferrule.report;

import ferrule.people.Cohort;
import ferrule.report.table.Kind;
import ferrule.report.table.TableDefinition;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** The cohorts and what a coordinator should look at, as tables. */
public final class OutlookTables {

  /**
   * A cohort and its outlook.
   *
   * @param edition of the programme that it is on
   * @param apprentices how many are there
   */
  public record Line(Cohort cohort, String edition, int apprentices, Outlook outlook) {}

  /** The cohorts. */
  public static final TableDefinition<Line> COHORTS =
      TableDefinition.<Line>of("cohorts", "Cohorts", "A cohort.")
          .inFiles("cohort id", Kind.TEXT, "Names the cohort.", l -> l.cohort().id().toString())
          .with("cohort", Kind.TEXT, "Its title.", l -> l.cohort().title())
          .with("starts on", Kind.DATE, "The first day of its programme.", l -> l.cohort().startsOn())
          .with("ends on", Kind.DATE, "The last day of its programme.", l -> l.cohort().endsOn())
          .inFiles("edition", Kind.TEXT, "The edition of the programme that it is on.", Line::edition)
          .with("apprentices", Kind.COUNT, "How many apprentices are there, without those who left.", Line::apprentices)
          .with("complete", Kind.SHARE,
              "The share of all their competencies that is complete, in hundredths and rounded down.",
              l -> l.outlook().percent() / 100.0)
          .with("competencies behind plan", Kind.COUNT, "How many competencies somebody should have completed by now.",
              l -> l.outlook().behind().size())
          .with("apprentices stuck", Kind.COUNT,
              "Of how many apprentices no work was signed for " + Outlook.STILL.toDays() + " days.",
              l -> l.outlook().stuck().size())
          .with("lapsed", Kind.COUNT, "How many competencies have lapsed and have to be shown again.",
              l -> l.outlook().lapsed().size())
          .with("lapsing", Kind.COUNT,
              "How many more will within " + Outlook.AHEAD.toDays() + " days, if nothing is done.",
              l -> l.outlook().lapsing().size());

  /**
   * Something to look at.
   *
   * @param why "behind plan", "stuck", "lapsed" or "lapsing"
   * @param apprentices how many it is about
   */
  public record Concern(
      Cohort cohort, String why, Optional<UUID> apprenticeId, Optional<String> apprentice, Optional<String> competency,
      long apprentices, Optional<Instant> last) {}

  /** What to look at. */
  public static final TableDefinition<Concern> CONCERNS =
      TableDefinition.<Concern>of(
              "concerns", "What to look at", "A competency that is behind, or an apprentice with something to look at.")
          .with("cohort", Kind.TEXT, "The cohort's title.", c -> c.cohort().title())
          .with("why", Kind.TEXT,
              "behind plan: some should have completed it; stuck: no work signed for long; lapsed: to be shown again; "
                  + "lapsing: will lapse soon.", Concern::why)
          .inFilesIfAny("apprentice id", Kind.TEXT, "Names the apprentice in every table.",
              c -> c.apprenticeId().map(UUID::toString))
          .withIfAny("apprentice", Kind.TEXT, "Who, where it is about one.", Concern::apprentice)
          .withIfAny("competency", Kind.TEXT, "What, where it is about one.", Concern::competency)
          .with("apprentices", Kind.COUNT, "How many it is about.", Concern::apprentices)
          .withIfAny("last signed", Kind.INSTANT, "When work of who is stuck was last signed, if any was.", Concern::last);

  private OutlookTables() {}

  /** What to look at in a cohort. */
  public static List<Concern> concerns(Line line) {
    List<Concern> concerns = new ArrayList<>();
    Cohort cohort = line.cohort();
    Outlook outlook = line.outlook();
    outlook.behind().forEach(b -> concerns.add(new Concern(
        cohort, "behind plan", Optional.empty(), Optional.empty(), Optional.of(b.title()), b.apprentices(),
        Optional.empty())));
    outlook.stuck().forEach(s -> concerns.add(new Concern(
        cohort, "stuck", Optional.of(s.id()), Optional.of(s.name()), Optional.empty(), 1, s.last())));
    outlook.lapsed().forEach(c -> concerns.add(about(cohort, "lapsed", c)));
    outlook.lapsing().forEach(c -> concerns.add(about(cohort, "lapsing", c)));
    return concerns;
  }

  private static Concern about(Cohort cohort, String why, Outlook.Currency currency) {
    return new Concern(
        cohort, why, Optional.of(currency.id()), Optional.of(currency.name()), Optional.of(currency.title()), 1,
        Optional.empty());
  }
}
