package ferrule.people;

import java.time.Instant;

/**
 * A session that is open, as its owner sees it in a list.
 *
 * @param hash by which it can be closed; nobody can use the session with it
 * @param opening how it was opened, and on what
 * @param openedAt when
 * @param lastSeenAt when it was last used, within a minute
 */
public record OpenSession(String hash, Opening opening, Instant openedAt, Instant lastSeenAt) {}
