package ferrule.bench;

import java.time.Instant;
import java.util.UUID;

/**
 * Who signed, having proved presence at that moment, and when.
 *
 * @param by the signer
 * @param name as it stood then
 * @param at to the millisecond
 */
public record Signature(UUID by, String name, Instant at) {}
