package ferrule.roster;

/**
 * An edition of the curriculum that a new cohort can be pinned to.
 *
 * @param edition by which it is kept
 * @param words by which it is chosen, such as "the newest, 24 competencies (a1b2c3)"
 */
public record EditionChoice(String edition, String words) {}
