package ferrule.people;

import java.time.Instant;

/**
 * A person with an open session.
 *
 * @param person who it is
 * @param csrfToken the secret that each of this session's forms carries
 * @param sessionHash the stored hash of the session's token
 * @param opening how it was opened
 * @param openedAt when it was opened
 */
public record SignedIn(Person person, String csrfToken, String sessionHash, Opening opening, Instant openedAt) {}
