/**
 * The coordinator's people: making cohorts, adding apprentices and instructors, inviting them, noting who left.
 *
 * <p>It knows {@code web} and {@code people}. Start at {@link ferrule.roster.RosterPages}.
 */
package ferrule.roster;
