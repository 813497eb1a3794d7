package ferrule.report;

import ferrule.bench.Grade;
import ferrule.bench.TaskId;
import ferrule.drill.ItemKind;
import ferrule.glossary.ConceptId;
import java.time.Instant;
import java.time.LocalDate;
import java.util.ArrayList;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * Everything that a {@link RandomHistory} did, as plain facts in the order in which they happened, noted beside the
 * stores and never read from them. What a page says is recomputed from these, without thought for speed.
 */
final class RawRecords {

  /** Somebody is in a cohort from a day on, until the day on which they left it, if they did. */
  record Membership(UUID cohort, UUID person, LocalDate joinedOn, Optional<LocalDate> leftOn) {}

  /** A cohort was moved to an edition. */
  record Moved(UUID cohort, String edition, Instant at) {}

  /** An apprentice said that work is ready to be checked. The id is ours, not the queue's. */
  record Asked(int id, UUID apprentice, TaskId task, String tag, Instant at) {}

  /** An apprentice took that back. */
  record AskedNoMore(int asked, Instant at) {}

  /** The grading of a request was begun, in a draft. */
  record Begun(UUID draft, Optional<Integer> asked, UUID instructor, Instant at) {}

  /**
   * A grade was signed.
   *
   * @param number in the log
   * @param corrects the record whose place it takes
   */
  record Signed(UUID record, long number, Optional<UUID> corrects, UUID draft, Grade grade, UUID by, Instant at) {}

  /** A record was withdrawn. */
  record Withdrawn(UUID record, UUID by, Instant at) {}

  /** A record got its second signature. */
  record Seconded(UUID record, UUID by, Instant at) {}

  /** Work was graded once more without seeing the first grade. */
  record GradedBlind(UUID work, UUID by, Grade grade, Instant at) {}

  /** A sitting was started. */
  record Sat(UUID sitting, UUID person, Optional<UUID> assignment, int attempt, int items, Instant at) {}

  /** A drill was set for a cohort. */
  record Set(UUID assignment, UUID cohort, Instant at) {}

  /**
   * An item was answered.
   *
   * @param chosen the id of the option, where one was chosen
   * @param key the id of the option that would have been right, where one is to be chosen
   * @param credit as it was given first
   */
  record Answered(
      UUID response,
      UUID sitting,
      int position,
      UUID person,
      ItemKind kind,
      ConceptId part,
      Optional<String> phrase,
      Optional<String> chosen,
      Optional<String> key,
      String verdict,
      double credit,
      Optional<ConceptId> takenFor,
      Instant at) {}

  /** An answer counts otherwise from then on. */
  record Regraded(UUID response, UUID ruling, String verdict, double credit, Optional<ConceptId> takenFor, Instant at) {}

  /** A phrase was ruled on, as a name of a part. */
  record Ruled(UUID ruling, String phrase, ConceptId part, Instant at) {}

  /** A ruling was taken back. */
  record RulingUndone(UUID ruling, Instant at) {}

  /** Hours were entered. */
  record Hours(UUID entry, UUID apprentice, LocalDate day, int minutes, Optional<UUID> corrects, UUID by, Instant at) {}

  /** Prior learning was granted. */
  record Granted(UUID grant, UUID apprentice, String competency, Optional<LocalDate> until, Instant at) {}

  /** A grant was withdrawn. */
  record GrantWithdrawn(UUID grant, Instant at) {}

  final List<Membership> memberships = new ArrayList<>();
  final List<Moved> moves = new ArrayList<>();
  final List<Asked> asked = new ArrayList<>();
  final List<AskedNoMore> askedNoMore = new ArrayList<>();
  final List<Begun> begun = new ArrayList<>();
  final List<Signed> signed = new ArrayList<>();
  final List<Withdrawn> withdrawn = new ArrayList<>();
  final List<Seconded> seconded = new ArrayList<>();
  final List<GradedBlind> gradedBlind = new ArrayList<>();
  final List<Set> set = new ArrayList<>();
  final List<Sat> sat = new ArrayList<>();
  final List<Answered> answered = new ArrayList<>();
  final List<Regraded> regraded = new ArrayList<>();
  final List<Ruled> ruled = new ArrayList<>();
  final List<RulingUndone> rulingsUndone = new ArrayList<>();
  final List<Hours> hours = new ArrayList<>();
  final List<Granted> granted = new ArrayList<>();
  final List<GrantWithdrawn> grantsWithdrawn = new ArrayList<>();

  /** The edition that a cohort is on at an instant, which it began with unless it was moved. */
  String edition(UUID cohort, String begunWith, Instant at) {
    String edition = begunWith;
    for (Moved move : moves) {
      if (move.cohort().equals(cohort) && !move.at().isAfter(at)) {
        edition = move.edition();
      }
    }
    return edition;
  }

  /** Whether a record still counts at an instant: neither corrected nor withdrawn by then. */
  boolean stands(UUID record, Instant at) {
    for (Signed later : signed) {
      if (later.corrects().filter(record::equals).isPresent() && !later.at().isAfter(at)) {
        return false;
      }
    }
    for (Withdrawn later : withdrawn) {
      if (later.record().equals(record) && !later.at().isAfter(at)) {
        return false;
      }
    }
    return true;
  }

  /** Whether a record has its second signature at an instant. */
  boolean isSeconded(UUID record, Instant at) {
    for (Seconded second : seconded) {
      if (second.record().equals(record) && !second.at().isAfter(at)) {
        return true;
      }
    }
    return false;
  }

  /** The sign-off that a record goes back to: itself, or what it corrects, or what that corrects. */
  Signed firstOf(Signed record) {
    for (Signed earlier : signed) {
      if (record.corrects().filter(earlier.record()::equals).isPresent()) {
        return firstOf(earlier);
      }
    }
    return record;
  }

  /** What an answer counts at an instant. */
  double credit(Answered answer, Instant at) {
    return latest(answer, at).map(Regraded::credit).orElse(answer.credit());
  }

  /** The part that an answer was taken for, as it is seen at an instant. */
  Optional<ConceptId> takenFor(Answered answer, Instant at) {
    return latest(answer, at).map(Regraded::takenFor).orElse(answer.takenFor());
  }

  private Optional<Regraded> latest(Answered answer, Instant at) {
    Regraded latest = null;
    for (Regraded r : regraded) {
      if (r.response().equals(answer.response()) && !r.at().isAfter(at)) {
        latest = r;
      }
    }
    return Optional.ofNullable(latest);
  }
}
