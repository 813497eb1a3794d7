package ferrule.people;

/**
 * A person with an open session.
 *
 * @param person who it is
 * @param csrfToken the secret that each of this session's forms carries
 * @param sessionHash the stored hash of the session's token
 */
public record SignedIn(Person person, String csrfToken, String sessionHash) {}
