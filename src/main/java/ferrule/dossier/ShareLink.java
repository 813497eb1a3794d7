package ferrule.dossier;

import java.time.Instant;
import java.util.Optional;
import java.util.UUID;

/**
 * A link by which whoever has it reads one apprentice's record, without signing in, until it expires or is revoked.
 *
 * @param id names it in the apprentice's list; it opens nothing
 * @param person whose record it shows
 * @param purpose for whom it was made, in the apprentice's words
 * @param madeAt when
 * @param expiresAt until when it opens the record
 * @param revokedAt when the apprentice took it back, if they did
 * @param timesOpened how often the record was opened by it
 * @param lastOpenedAt when last, if ever
 */
record ShareLink(
    UUID id,
    UUID person,
    String purpose,
    Instant madeAt,
    Instant expiresAt,
    Optional<Instant> revokedAt,
    int timesOpened,
    Optional<Instant> lastOpenedAt) {

  /** The most characters that a purpose may have. */
  static final int LONGEST_PURPOSE = 100;

  /** Whether it opens the record at this moment. */
  boolean isOpen(Instant now) {
    return revokedAt.isEmpty() && now.isBefore(expiresAt);
  }
}
