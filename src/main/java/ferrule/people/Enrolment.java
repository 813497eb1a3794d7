package ferrule.people;

import java.util.Optional;
import java.util.UUID;

/**
 * Somebody who comes into the programme or into one more cohort of it.
 *
 * @param person who
 * @param isNew whether they have no account yet
 * @param cohort the cohort that they join, if they join one
 */
public record Enrolment(Person person, boolean isNew, Optional<UUID> cohort) {}
