package ferrule.competency;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.Locale;
import java.util.Optional;

/** One thing that is still missing. */
public sealed interface Gap {

  /** What is missing, without a full stop, in words that an apprentice understands. */
  String inWords();

  /** The same in the fewest words, for a table: what it is about, then what is missing. */
  String brief();

  /** Whether the two ask for the same sort of thing, so that the larger of them covers both. */
  boolean isLike(Gap other);

  /** Whether closing this gap closes the other, which {@linkplain #isLike is like} it. */
  boolean covers(Gap other);

  /** The smallest gap that is closed only when both this and the other, which is like it, are. */
  Gap with(Gap other);

  /** The assembly whose names are to be practised, where that is what it takes. */
  default Optional<ConceptId> practised() {
    return Optional.empty();
  }

  /**
   * Sign-offs of a task.
   *
   * @param rule the rule that they are missing from
   * @param standing the lowest that counts now: the rule's, or a better one where work that is only sound would undo
   *     what another rule asks of the latest work
   * @param have how many count by now, together with what is missing
   * @param more how many more are needed, at least 1
   * @param usedInstruments on how many different instruments those that count were done
   * @param newInstruments on how many further instruments the missing ones must be, at most {@code more}
   * @param seenBy by how many different instructors those that count were signed
   * @param newInstructors by how many further instructors the missing ones must be, at most {@code more}
   * @param lapsed where nothing but age is in the way, the day of the latest sign-off that is too old
   */
  record SignOffs(
      Requirement.Signed rule,
      Standing standing,
      int have,
      int more,
      int usedInstruments,
      int newInstruments,
      int seenBy,
      int newInstructors,
      Optional<LocalDate> lapsed)
      implements Gap {

    private static final DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

    /** Checks that something is missing and that the further ones are among the missing. */
    public SignOffs {
      if (more < 1 || newInstruments > more || newInstructors > more) {
        throw new IllegalArgumentException(
            "a gap of sign-offs misses at least one, and no more further instruments or instructors than sign-offs");
      }
    }

    /** What is to be done. */
    public TaskId task() {
      return rule.task();
    }

    @Override
    public String inWords() {
      return Count.word(more) + kind() + " of “" + rule.title() + "”" + fine() + on() + by() + when();
    }

    @Override
    public String brief() {
      return rule.title() + ": " + more + kind() + fine() + on() + by()
          + (lapsed.isPresent() ? ", lapsed" : "");
    }

    private String kind() {
      String word = lapsed.isPresent() && have == 0 ? " new sign-off" : have > 0 ? " more sign-off" : " sign-off";
      return more == 1 ? word : word + "s";
    }

    private String fine() {
      return standing == Standing.FINE ? " as fine" : "";
    }

    private String on() {
      if (newInstruments == 0 || (usedInstruments == 0 && newInstruments == 1)) {
        return "";
      }
      if (usedInstruments == 0) {
        return ", on " + Count.word(newInstruments) + " different instruments";
      }
      if (newInstruments > 1) {
        return ", on " + Count.word(newInstruments) + " further instruments";
      }
      return (more == 1 ? ", on a " : ", one of them on a ") + Count.ordinal(usedInstruments + 1) + " instrument";
    }

    private String by() {
      if (newInstructors == 0 || (seenBy == 0 && newInstructors == 1)) {
        return "";
      }
      if (seenBy == 0) {
        return ", by " + Count.word(newInstructors) + " different instructors";
      }
      if (newInstructors > 1) {
        return ", by " + Count.word(newInstructors) + " further instructors";
      }
      return (more == 1 ? ", by " : ", one of them by ") + "another instructor";
    }

    private String when() {
      if (lapsed.isPresent()) {
        return ", because " + (have == 0 ? "the last, of " : "one, of ") + DAY.format(lapsed.get()) + ", is older than "
            + rule.counting().noOlder().orElseThrow().inWords();
      }
      boolean several = have + more > 1;
      Counting.Order order = rule.counting().order();
      return (order != Counting.Order.BEST && several ? ", with nothing that falls short in between" : "")
          + rule.counting().within().filter(s -> several).map(s -> ", all within " + s.inWords()).orElse("");
    }

    @Override
    public boolean isLike(Gap other) {
      return other instanceof SignOffs o && o.task().equals(task()) && o.rule.standing() == rule.standing()
          && o.rule.counting().equals(rule.counting());
    }

    @Override
    public boolean covers(Gap other) {
      SignOffs o = (SignOffs) other;
      return more >= o.more && newInstruments >= o.newInstruments && newInstructors >= o.newInstructors;
    }

    /** Whether closing this gap closes another of the same task, though another rule asks it. */
    boolean implies(SignOffs other) {
      boolean farEnough = other.task().equals(task()) && standing.isAtLeast(other.standing) && more >= other.more;
      // an instrument that is new to one rule may be an old one to another that counts more of the past
      boolean asNew = rule.standing() == other.rule.standing() && rule.counting().isUnrestricted()
          && newInstruments >= other.newInstruments && newInstructors >= other.newInstructors;
      return farEnough && (asNew || (other.newInstruments == 0 && other.newInstructors == 0));
    }

    /** The same sign-offs, each at this standing or better. */
    SignOffs atLeast(Standing floor) {
      return standing.isAtLeast(floor) ? this
          : new SignOffs(
              rule, floor, have, more, usedInstruments, newInstruments, seenBy, newInstructors, lapsed);
    }

    @Override
    public SignOffs with(Gap gap) {
      SignOffs other = (SignOffs) gap;
      return new SignOffs(
          rule, standing, have, Math.max(more, other.more), usedInstruments,
          Math.max(newInstruments, other.newInstruments), seenBy, Math.max(newInstructors, other.newInstructors),
          lapsed.or(other::lapsed));
    }
  }

  /**
   * Names of an assembly's parts.
   *
   * @param assembly the assembly
   * @param term its preferred term
   * @param right how many were named right when last asked for
   * @param needed how many must be
   * @param of how many there are
   */
  record Names(ConceptId assembly, String term, int right, int needed, int of) implements Gap {

    /** Checks that something is missing. */
    public Names {
      if (needed <= right || needed > of) {
        throw new IllegalArgumentException("of " + of + " names " + needed + " are needed and " + right + " are right");
      }
    }

    @Override
    public String inWords() {
      int more = needed - right;
      return more + (right > 0 ? " more" : "") + (more == 1 ? " name" : " names") + " of the parts of the " + term
          + " (" + right + " of " + of + " right by now, " + needed + " needed)";
    }

    @Override
    public String brief() {
      int more = needed - right;
      return term + ": " + more + (right > 0 ? " more" : "") + (more == 1 ? " name" : " names");
    }

    @Override
    public Optional<ConceptId> practised() {
      return Optional.of(assembly);
    }

    @Override
    public boolean isLike(Gap other) {
      return other instanceof Names o && o.assembly.equals(assembly);
    }

    @Override
    public boolean covers(Gap other) {
      return needed >= ((Names) other).needed;
    }

    @Override
    public Names with(Gap other) {
      return covers(other) ? this : (Names) other;
    }
  }

  /**
   * Names of an assembly's parts, until a share of them is sure.
   *
   * @param scope the assembly
   * @param term its preferred term
   * @param named how they were named by now
   * @param percent the share that is to be sure
   * @param more how many further right answers that takes, at least 1
   */
  record Known(ConceptId scope, String term, PartsNamed named, int percent, int more) implements Gap {

    /** Checks that something is missing and can be had. */
    public Known {
      if (more < 1 || more > named.of() - named.right()) {
        throw new IllegalArgumentException("of " + named + " no " + more + " further can be named right");
      }
    }

    @Override
    public String inWords() {
      String now = named.asked() == 0 ? "none was asked for yet"
          : named.right() + " of " + named.asked() + " asked were right, which makes "
              + (int) Math.floor(100 * named.sure()) + " % sure";
      return more + (named.right() > 0 ? " more" : "") + (more == 1 ? " name" : " names") + " of the parts of the "
          + term + ", so that " + percent + " % are sure to be known (" + now + ")";
    }

    @Override
    public String brief() {
      return term + ": " + more + (named.right() > 0 ? " more" : "") + (more == 1 ? " name" : " names");
    }

    @Override
    public Optional<ConceptId> practised() {
      return Optional.of(scope);
    }

    @Override
    public boolean isLike(Gap other) {
      return other instanceof Known o && o.scope.equals(scope);
    }

    @Override
    public boolean covers(Gap other) {
      return more >= ((Known) other).more;
    }

    @Override
    public Known with(Gap other) {
      return covers(other) ? this : (Known) other;
    }
  }

  /**
   * Time at the bench.
   *
   * @param rule the rule that it is missing from
   * @param have minutes that count by now
   * @param more minutes that are missing, at least 1
   */
  record Hours(Requirement.Hours rule, int have, int more) implements Gap {

    /** Checks that something is missing. */
    public Hours {
      if (more < 1) {
        throw new IllegalArgumentException("a gap of hours misses at least a minute; given: " + more);
      }
    }

    @Override
    public String inWords() {
      return BenchHours.inWords(more) + (have > 0 ? " more" : "") + " at the bench"
          + rule.noOlder().map(s -> ", none longer ago than " + s.inWords()).orElse("")
          + (have > 0 ? " (" + BenchHours.inWords(have) + " of " + rule.hours() + " by now)" : "");
    }

    @Override
    public String brief() {
      return "Bench: " + BenchHours.inWords(more) + (have > 0 ? " more" : "");
    }

    @Override
    public boolean isLike(Gap other) {
      return other instanceof Hours;
    }

    @Override
    public boolean covers(Gap other) {
      // an hour now counts for every rule of hours
      return more >= ((Hours) other).more;
    }

    @Override
    public Hours with(Gap other) {
      return covers(other) ? this : (Hours) other;
    }
  }
}
