package ferrule.report;

import ferrule.bench.Standing;
import ferrule.bench.TaskId;
import ferrule.competency.Counting;
import ferrule.competency.Requirement;
import ferrule.glossary.ConceptId;
import java.time.LocalDate;
import java.time.format.DateTimeFormatter;
import java.util.List;
import java.util.Locale;
import java.util.Optional;

/** Something that is missing, as {@link PlainWays} works it out, and the words for it. */
sealed interface PlainGap {

  DateTimeFormatter DAY = DateTimeFormatter.ofPattern("d MMMM uuuu", Locale.ENGLISH);

  /** What tells it from others: of two with the same, more closes both. */
  List<Object> sort();

  /** How much of it, to compare two of the same sort. */
  int more();

  String words();

  /** Minutes in words. */
  static String time(int minutes) {
    String hours = minutes / 60 == 1 && minutes % 60 == 0 ? "1 hour" : minutes / 60 + " hours";
    return minutes % 60 == 0 ? hours
        : minutes < 60 ? minutes + " minutes" : minutes / 60 + " h " + minutes % 60 + " min";
  }

  /**
   * Sign-offs.
   *
   * @param at the lowest standing that will do
   * @param tags on how many further instruments, of so many that count
   * @param instructors by how many further instructors, of so many that count
   */
  record SignOffs(
      Requirement.Signed rule, Standing at, int have, int more, int tags, int tagsNow, int instructors,
      int instructorsNow, Optional<LocalDate> tooOld) implements PlainGap {

    private static final List<String> NUMBERS = List.of("no", "one", "two", "three", "four");
    private static final List<String> PLACES = List.of("", "first", "second", "third", "fourth");

    TaskId task() {
      return rule.task();
    }

    @Override
    public List<Object> sort() {
      return List.of(rule.task(), rule.standing(), rule.counting());
    }

    SignOffs and(SignOffs o) {
      return new SignOffs(
          rule, at, have, Math.max(more, o.more), Math.max(tags, o.tags), tagsNow,
          Math.max(instructors, o.instructors), instructorsNow, tooOld.isPresent() ? tooOld : o.tooOld);
    }

    SignOffs atLeast(Standing lowest) {
      return at.compareTo(lowest) >= 0 ? this
          : new SignOffs(rule, lowest, have, more, tags, tagsNow, instructors, instructorsNow, tooOld);
    }

    @Override
    public String words() {
      String sort = have > 0 ? "more " : tooOld.isPresent() ? "new " : "";
      String on = tags == 0 || (tagsNow == 0 && tags == 1) ? ""
          : tagsNow == 0 ? ", on " + NUMBERS.get(tags) + " different instruments"
          : tags > 1 ? ", on " + NUMBERS.get(tags) + " further instruments"
          : (more == 1 ? ", on a " : ", one of them on a ") + PLACES.get(tagsNow + 1) + " instrument";
      String by = instructors == 0 || (instructorsNow == 0 && instructors == 1) ? ""
          : instructorsNow == 0 ? ", by " + NUMBERS.get(instructors) + " different instructors"
          : instructors > 1 ? ", by " + NUMBERS.get(instructors) + " further instructors"
          : (more == 1 ? ", by " : ", one of them by ") + "another instructor";
      return NUMBERS.get(more) + " " + sort + "sign-off" + (more == 1 ? "" : "s") + " of “" + rule.title() + "”"
          + (at == Standing.FINE ? " as fine" : "") + on + by + when();
    }

    private String when() {
      if (tooOld.isPresent()) {
        return ", because " + (have == 0 ? "the last, of " : "one, of ") + DAY.format(tooOld.get()) + ", is older than "
            + rule.counting().noOlder().orElseThrow().inWords();
      }
      boolean inARow = have + more > 1 && rule.counting().order() != Counting.Order.BEST;
      return (inARow ? ", with nothing that falls short in between" : "")
          + (have + more > 1 && rule.counting().within().isPresent()
              ? ", all within " + rule.counting().within().get().inWords() : "");
    }
  }

  /** Names of an assembly, with the words for how it stands by now. */
  record Names(ConceptId assembly, String sortOfRule, String term, int right, int more, String now) implements PlainGap {

    @Override
    public List<Object> sort() {
      return List.of(assembly, sortOfRule);
    }

    @Override
    public String words() {
      return more + (right > 0 ? " more" : "") + (more == 1 ? " name" : " names") + " of the parts of the " + term + now;
    }
  }

  /** Time at the bench, in minutes. */
  record Hours(Requirement.Hours rule, int have, int more) implements PlainGap {

    @Override
    public List<Object> sort() {
      return List.of("hours");
    }

    @Override
    public String words() {
      return time(more) + (have > 0 ? " more" : "") + " at the bench"
          + (rule.noOlder().isPresent() ? ", none longer ago than " + rule.noOlder().get().inWords() : "")
          + (have > 0 ? " (" + time(have) + " of " + rule.hours() + " by now)" : "");
    }
  }
}
