package ferrule.report.bundle;

import ferrule.bench.SignedWork;
import ferrule.bench.TaskBook;
import ferrule.competency.Area;
import ferrule.competency.BenchHours;
import ferrule.competency.Competency;
import ferrule.competency.Equivalence;
import ferrule.competency.Programme;
import ferrule.competency.Verdict;
import ferrule.ledger.LogEntry;
import ferrule.people.Cohort;
import ferrule.people.Member;
import ferrule.report.CohortTables;
import ferrule.report.CohortTables.Standing;
import ferrule.report.SchoolTables;
import ferrule.report.table.Kind;
import ferrule.report.table.TableDefinition;
import java.time.Instant;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/** The tables of a bundle. */
public final class BundleTables {

  /** A competency of an edition. */
  record Taught(Programme programme, Area area, Competency competency) {}

  static final TableDefinition<Taught> PROGRAMME =
      TableDefinition.<Taught>of("programme", "The programme", "A competency in an edition of the programme.")
          .with("edition", Kind.TEXT, "Names the edition.", t -> t.programme().edition())
          .inFiles("programme", Kind.TEXT, "The programme's title.", t -> t.programme().title())
          .with("area", Kind.TEXT, "The area of the competency.", t -> t.area().title())
          .inFiles("competency id", Kind.TEXT, "Names the competency in every edition.", t -> t.competency().id())
          .with("competency", Kind.TEXT, "Its title.", t -> t.competency().title())
          .with("says", Kind.TEXT, "What whoever holds it can do.", t -> t.competency().says())
          .with("proved by", Kind.TEXT, "The rule that proves it, in words.", t -> t.competency().requires().inWords())
          .withIfAny("week", Kind.COUNT, "The week of the programme by whose end it is meant to be complete.",
              t -> t.competency().week().isPresent() ? Optional.of(t.competency().week().getAsInt()) : Optional.empty());

  /** A cohort and the edition that it is on. */
  record CohortLine(Cohort cohort, String edition, int members) {}

  static final TableDefinition<CohortLine> COHORTS =
      TableDefinition.<CohortLine>of("cohorts", "Cohorts", "A cohort.")
          .inFiles("cohort id", Kind.TEXT, "Names the cohort.", l -> l.cohort().id().toString())
          .with("cohort", Kind.TEXT, "Its title.", l -> l.cohort().title())
          .with("starts on", Kind.DATE, "The first day of its programme.", l -> l.cohort().startsOn())
          .with("ends on", Kind.DATE, "The last day of its programme.", l -> l.cohort().endsOn())
          .with("edition", Kind.TEXT, "The edition of the programme that it is judged by.", CohortLine::edition)
          .with("apprentices", Kind.COUNT, "How many apprentices it has had by that day, with those who left.",
              CohortLine::members);

  /** An apprentice in a cohort. */
  record MemberLine(Cohort cohort, Member member, long complete, int of) {}

  static final TableDefinition<MemberLine> APPRENTICES =
      TableDefinition.<MemberLine>of("apprentices", "Apprentices", "An apprentice in a cohort.")
          .with("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .inFiles("apprentice id", Kind.TEXT, "Names the apprentice in every table.",
              l -> l.member().person().id().toString())
          .with("apprentice", Kind.TEXT, "Their full name.", l -> l.member().person().fullName())
          .with("joined on", Kind.DATE, "Their first day in the cohort.", l -> l.member().joinedOn())
          .withIfAny("left on", Kind.DATE, "The day on which they left it, if they did.", l -> l.member().leftOn())
          .with("complete", Kind.COUNT, "How many competencies they have completed.", MemberLine::complete)
          .with("competencies", Kind.COUNT, "How many the programme has.", MemberLine::of);

  /**
   * Something that speaks for a competency.
   *
   * @param kind "sign-off", "names", "hours", "competency before" or "prior learning"
   * @param record number in the log, of a sign-off
   */
  record Evidence(
      Standing standing, String kind, Optional<Long> record, Optional<UUID> id, String what, Optional<String> standard,
      Optional<Instant> at, Optional<String> by) {

    /** Everything that speaks for it. */
    static List<Evidence> of(Standing standing, TaskBook tasks) {
      List<Evidence> all = new ArrayList<>();
      Verdict verdict = standing.verdict();
      verdict.works().forEach(work -> all.add(of(standing, work, tasks)));
      verdict.names().forEach((assembly, named) -> all.add(beside(
          standing, "names", assembly + ": " + named.right() + " of " + named.of() + " parts named right when last asked")));
      if (verdict.minutes() > 0) {
        all.add(beside(standing, "hours", BenchHours.inWords(verdict.minutes()) + " at the bench"));
      }
      verdict.before().forEach((title, complete) -> all.add(beside(
          standing, "competency before", title + (complete ? ": complete" : ": not complete"))));
      verdict.equivalence().ifPresent(grant -> all.add(new Evidence(
          standing, "prior learning", Optional.empty(), Optional.of(grant.id()), grant.reason(), Optional.empty(),
          Optional.of(grant.grantedAt()), Optional.of(grant.grantedByName()))));
      return all;
    }

    private static Evidence of(Standing standing, SignedWork work, TaskBook tasks) {
      String task = tasks.find(work.task()).map(t -> t.title()).orElse(work.task().value());
      return new Evidence(
          standing, "sign-off", Optional.of(work.number()), Optional.of(work.record()), task + ", on " + work.tag(),
          Optional.of(work.standing().word()),
          Optional.of(work.gradedAt()), Optional.of(work.instructorName()));
    }

    private static Evidence beside(Standing standing, String kind, String what) {
      return new Evidence(
          standing, kind, Optional.empty(), Optional.empty(), what, Optional.empty(), Optional.empty(), Optional.empty());
    }
  }

  static final TableDefinition<Evidence> EVIDENCE =
      TableDefinition.<Evidence>of(
              "evidence", "Evidence", "Something that speaks for an apprentice's competency.")
          .inFiles("cohort", Kind.TEXT, "The cohort's title.", e -> e.standing().report().cohort().title())
          .inFiles("apprentice id", Kind.TEXT, "Names the apprentice in every table.",
              e -> e.standing().row().apprentice().id().toString())
          .with("apprentice", Kind.TEXT, "Their full name.", e -> e.standing().row().apprentice().fullName())
          .inFiles("competency id", Kind.TEXT, "Names the competency.", e -> e.standing().competency().id())
          .with("competency", Kind.TEXT, "Its title.", e -> e.standing().competency().title())
          .with("kind", Kind.TEXT, "sign-off, names, hours, competency before, or prior learning.", Evidence::kind)
          .withIfAny("record", Kind.COUNT, "The number of the sign-off in the log of signed records.", Evidence::record)
          .inFilesIfAny("record id", Kind.TEXT, "Names that record, or the grant of prior learning.",
              e -> e.id().map(UUID::toString))
          .with("what", Kind.TEXT, "The task and the instrument, or what else it is.", Evidence::what)
          .withIfAny("standing", Kind.TEXT, "How the work stood.", Evidence::standard)
          .withIfAny("at", Kind.INSTANT, "When it was signed or granted.", Evidence::at)
          .withIfAny("by", Kind.TEXT, "Who signed or granted it; the name as it stood then.", Evidence::by);

  static final TableDefinition<LogEntry> RECORDS =
      TableDefinition.<LogEntry>of("records", "Signed records", "An entry of the log of signed records.")
          .with("record", Kind.COUNT, "Its number, from 1.", LogEntry::number)
          .with("kind", Kind.TEXT, "sign-off, correction, withdrawal, and so on.", LogEntry::kind)
          .with("at", Kind.INSTANT, "When it was signed.", LogEntry::at)
          .inFiles("record id", Kind.TEXT, "Names it for ever.", e -> e.id().toString())
          .inFilesIfAny("apprentice id", Kind.TEXT, "Whom it is about, if it is about somebody.",
              e -> e.subject().map(UUID::toString))
          .inFilesIfAny("supersedes", Kind.TEXT, "The id of the record whose place it takes.",
              e -> e.said().supersedes().map(UUID::toString))
          .with("fingerprint", Kind.TEXT,
              "The SHA-256 of the byte 00 and the text that was signed: its leaf in the log's tree.", LogEntry::leafHash)
          .inFilesIfAny("redacted by", Kind.COUNT,
              "The number of the erasure that took something out of its text, if one did.",
              LogEntry::redactedBy);

  /** A grant of prior learning. */
  record GrantLine(Cohort cohort, Member member, Equivalence grant) {}

  static final TableDefinition<GrantLine> GRANTS =
      TableDefinition.<GrantLine>of("prior-learning", "Prior learning", "A grant of prior learning.")
          .with("cohort", Kind.TEXT, "The cohort's title.", l -> l.cohort().title())
          .inFiles("apprentice id", Kind.TEXT, "Names the apprentice in every table.",
              l -> l.member().person().id().toString())
          .with("apprentice", Kind.TEXT, "Their full name.", l -> l.member().person().fullName())
          .with("competency id", Kind.TEXT, "The competency that it stands in for.", l -> l.grant().competency())
          .with("reason", Kind.TEXT, "What was seen.", l -> l.grant().reason())
          .with("granted by", Kind.TEXT, "Who granted it.", l -> l.grant().grantedByName())
          .with("granted", Kind.INSTANT, "When.", l -> l.grant().grantedAt())
          .withIfAny("until", Kind.DATE, "The last day on which it counts, if it ends.", l -> l.grant().until());

  /** Every table of a bundle, in the order in which they are best read. */
  public static final List<TableDefinition<?>> ALL =
      List.of(
          PROGRAMME, COHORTS, APPRENTICES, CohortTables.COMPETENCIES, EVIDENCE, RECORDS, SchoolTables.HOURS,
          GRANTS);

  private BundleTables() {}
}
