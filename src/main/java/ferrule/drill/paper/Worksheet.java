package ferrule.drill.paper;

import ferrule.drill.Plan;
import java.time.Instant;
import java.util.List;
import java.util.Optional;
import java.util.UUID;

/**
 * A worksheet for a cohort, as it was made: what stands on each version never changes, so that a key printed in a year
 * fits a paper handed out today.
 *
 * @param id never changes
 * @param cohort whose paper it is
 * @param assignment the drill that it was made from; empty if its parts were chosen for it
 * @param title as it stands on the paper, 1 to {@value #LONGEST_TITLE} characters
 * @param school the line above the title, at most {@value #LONGEST_TITLE} characters; may be empty
 * @param plan what it asks
 * @param seed what its versions were drawn by
 * @param edition the edition of the curriculum that it was drawn from
 * @param madeBy the instructor
 * @param madeAt when
 * @param versions one to {@value #MOST_VERSIONS}, from A on
 */
public record Worksheet(
    UUID id,
    UUID cohort,
    Optional<UUID> assignment,
    String title,
    String school,
    Plan plan,
    long seed,
    String edition,
    UUID madeBy,
    Instant madeAt,
    List<Version> versions) {

  /** The most characters of a title. */
  public static final int LONGEST_TITLE = 120;

  /** The most versions. */
  public static final int MOST_VERSIONS = 6;

  /** Copies the list and checks the title and that there is a version, all with the same number of items. */
  public Worksheet {
    versions = List.copyOf(versions);
    if (title.isBlank() || title.length() > LONGEST_TITLE || school.length() > LONGEST_TITLE) {
      throw new IllegalArgumentException("a title has 1 to " + LONGEST_TITLE + " characters; given: " + title);
    }
    if (versions.isEmpty() || versions.size() > MOST_VERSIONS) {
      throw new IllegalArgumentException("a worksheet has 1 to " + MOST_VERSIONS + " versions");
    }
    if (versions.stream().mapToInt(v -> v.items().size()).distinct().count() != 1) {
      throw new IllegalArgumentException("every version has as many items as the others");
    }
  }

  /** How many items each version has. */
  public int length() {
    return versions.get(0).items().size();
  }

  /** The version with this letter, if there is one. */
  public Optional<Version> version(String letter) {
    return versions.stream().filter(v -> v.letter().equals(letter)).findFirst();
  }

  /** What stands at the foot of paper and key, to tell that they belong together, such as "3f2a-B". */
  public String code(Version version) {
    return id.toString().substring(0, 4) + "-" + version.letter();
  }
}
