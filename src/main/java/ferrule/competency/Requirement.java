package ferrule.competency;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.glossary.ConceptId;
import java.util.List;
import java.util.Optional;
import java.util.stream.Collectors;
import java.util.stream.Stream;

/** A rule that says what proves a competency. */
public sealed interface Requirement {

  /** The rule in words, without a full stop, such as "Slide fitting signed off twice, on two instruments". */
  String inWords();

  /** This rule and every rule within it. */
  default Stream<Requirement> all() {
    return Stream.of(this);
  }

  /**
   * Every one of these.
   *
   * @param parts at least one
   */
  record AllOf(List<Requirement> parts) implements Requirement {

    /** Copies the list and checks that it is not empty. */
    public AllOf {
      parts = List.copyOf(parts);
      if (parts.isEmpty()) {
        throw new IllegalArgumentException("a rule of all has at least one part");
      }
    }

    @Override
    public String inWords() {
      return joined(parts, "; and ");
    }

    @Override
    public Stream<Requirement> all() {
      return Stream.concat(Stream.of(this), parts.stream().flatMap(Requirement::all));
    }
  }

  /**
   * At least so many of these.
   *
   * @param count from 1 to the number of parts
   * @param parts at least one
   */
  record AtLeast(int count, List<Requirement> parts) implements Requirement {

    /** Copies the list and checks that the count can be reached. */
    public AtLeast {
      parts = List.copyOf(parts);
      if (count < 1 || count > parts.size()) {
        throw new IllegalArgumentException(
            "at least " + count + " of " + parts.size() + " cannot be asked; expected 1 to " + parts.size());
      }
    }

    @Override
    public String inWords() {
      String how = count == 1 ? "either " : "at least " + Count.word(count) + " of: ";
      return parts.size() == 1 ? parts.get(0).inWords() : how + joined(parts, "; or ");
    }

    @Override
    public Stream<Requirement> all() {
      return Stream.concat(Stream.of(this), parts.stream().flatMap(Requirement::all));
    }
  }

  /**
   * A task signed off.
   *
   * @param task what is done
   * @param title of the task
   * @param standing the lowest that counts; never {@link Standing#NOT_YET}
   * @param times how often, at least 1
   * @param instruments on how many different instruments, at least 1
   * @param instructors by how many different instructors, at least 1
   * @param counting which sign-offs count together
   */
  record Signed(
      TaskId task, String title, Standing standing, int times, int instruments, int instructors, Counting counting)
      implements Requirement {

    /** Checks the counts. */
    public Signed {
      if (!standing.meets() || times < 1 || instruments < 1 || instructors < 1) {
        throw new IllegalArgumentException("sign-offs of " + task + " are asked at least once, of sound work or better");
      }
    }

    /** The same without a limit to how long ago. */
    Signed ofAnyAge() {
      Counting ageless = new Counting(counting.order(), counting.within(), Optional.empty());
      return new Signed(task, title, standing, times, instruments, instructors, ageless);
    }

    /** A task signed off at any time, whatever falls short in between. */
    public Signed(TaskId task, String title, Standing standing, int times, int instruments, int instructors) {
      this(task, title, standing, times, instruments, instructors, Counting.ALL);
    }

    @Override
    public String inWords() {
      return "“" + title + "” signed off " + (standing == Standing.FINE ? "as fine " : "") + Count.times(times)
          + (instruments > 1 ? ", on " + Count.word(instruments) + " instruments" : "")
          + (instructors > 1 ? ", by " + Count.word(instructors) + " instructors" : "")
          + counting.inWords(times);
    }
  }

  /**
   * A share of an assembly's parts named right when they were last asked for.
   *
   * @param assembly the assembly
   * @param term its preferred term
   * @param percent the share, 1 to 100
   */
  record Names(ConceptId assembly, String term, int percent) implements Requirement {

    /** Checks the share. */
    public Names {
      requireShare(percent);
    }

    /** How many of so many parts make up the share: the smallest whole number that does. */
    int needed(int of) {
      return (of * percent + 99) / 100;
    }

    @Override
    public String inWords() {
      return percent + " % of the parts of the " + term + " named right when last asked";
    }
  }

  /**
   * A share of an assembly's parts that is sure to be named right, as the last answers show it ({@link
   * PartsNamed#sure}). If even every part right makes too little sure, because there are few, every part is asked.
   *
   * @param scope the assembly
   * @param term its preferred term
   * @param percent the share, 1 to 100
   */
  record Known(ConceptId scope, String term, int percent) implements Requirement {

    /** Checks the share. */
    public Known {
      requireShare(percent);
    }

    @Override
    public String inWords() {
      return "so many parts of the " + term + " named right when last asked that at least " + percent
          + " % are sure to be known";
    }
  }

  /**
   * Hours at the bench.
   *
   * @param hours how many, at least 1
   * @param noOlder how long ago each may have been at most
   */
  record Hours(int hours, Optional<Span> noOlder) implements Requirement {

    /** Checks the hours. */
    public Hours {
      if (hours < 1) {
        throw new IllegalArgumentException("hours at the bench are at least 1; given: " + hours);
      }
    }

    @Override
    public String inWords() {
      return (hours == 1 ? "one hour" : hours + " hours") + " at the bench"
          + noOlder.map(s -> ", none longer ago than " + s.inWords()).orElse("");
    }
  }

  /**
   * Another competency, which comes first.
   *
   * @param competency its id
   * @param title its title
   */
  record Holds(String competency, String title) implements Requirement {

    @Override
    public String inWords() {
      return "“" + title + "” complete";
    }
  }

  private static void requireShare(int percent) {
    if (percent < 1 || percent > 100) {
      throw new IllegalArgumentException("a share of names is 1 to 100 percent; given: " + percent);
    }
  }

  private static String joined(List<Requirement> parts, String by) {
    return parts.stream().map(Requirement::inWords).collect(Collectors.joining(by));
  }
}
