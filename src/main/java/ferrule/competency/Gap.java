package ferrule.competency;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;

/** One thing that is still missing. */
public sealed interface Gap {

  /** What is missing, without a full stop, in words that an apprentice understands. */
  String inWords();

  /** The same in the fewest words, for a table: what it is about, then what is missing. */
  String brief();

  /**
   * Sign-offs of a task.
   *
   * @param task what is to be done
   * @param title of the task
   * @param standing the lowest that counts
   * @param have how many count by now
   * @param more how many more are needed, at least 1
   * @param usedInstruments on how many different instruments those that count were done
   * @param newInstruments on how many further instruments the missing ones must be, at most {@code more}
   * @param seenBy by how many different instructors those that count were signed
   * @param newInstructors by how many further instructors the missing ones must be, at most {@code more}
   */
  record SignOffs(
      TaskId task,
      String title,
      Standing standing,
      int have,
      int more,
      int usedInstruments,
      int newInstruments,
      int seenBy,
      int newInstructors)
      implements Gap {

    /** Checks that something is missing and that the further ones are among the missing. */
    public SignOffs {
      if (more < 1 || newInstruments > more || newInstructors > more) {
        throw new IllegalArgumentException(
            "a gap of sign-offs misses at least one, and no more further instruments or instructors than sign-offs");
      }
    }

    @Override
    public String inWords() {
      String count = Count.word(more) + (have > 0 ? " more" : "") + (more == 1 ? " sign-off" : " sign-offs");
      return count + " of “" + title + "”" + (standing == Standing.FINE ? " as fine" : "")
          + on() + by();
    }

    @Override
    public String brief() {
      return title + ": " + more + (have > 0 ? " more" : "") + (more == 1 ? " sign-off" : " sign-offs")
          + (standing == Standing.FINE ? " as fine" : "") + on() + by();
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

    /** The smallest gap of the same task and standing that is closed only when both are. */
    SignOffs with(SignOffs other) {
      return new SignOffs(
          task, title, standing, have, Math.max(more, other.more), usedInstruments,
          Math.max(newInstruments, other.newInstruments), seenBy, Math.max(newInstructors, other.newInstructors));
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
  }
}
