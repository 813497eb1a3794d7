package ferrule.people;

import java.util.Locale;

/** What a person does in the programme. */
public enum Role {
  /** Learns: takes drills, asks to be graded. */
  APPRENTICE,
  /** Teaches: assigns drills, grades and signs. */
  INSTRUCTOR,
  /** Answers for the programme: cohorts and reports. */
  COORDINATOR;

  /** The role's word as it is stored and shown, such as "apprentice". */
  public String word() {
    return name().toLowerCase(Locale.ROOT);
  }

  /** The role with this word; throws {@link IllegalArgumentException} for any other text. */
  public static Role parse(String word) {
    return valueOf(word.toUpperCase(Locale.ROOT));
  }
}
