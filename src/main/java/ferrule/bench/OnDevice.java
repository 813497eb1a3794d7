package ferrule.bench;

import java.time.Instant;
import java.util.UUID;

/**
 * What a signature says beside its own time when it was made on a device without a network.
 *
 * @param signedAt when it was signed, by the device's clock, set by this machine's when the two last spoke
 * @param receivedAt when it was received
 * @param provenAt when the signer had proved presence to take the device along; the PIN that was typed at signing was
 *     sealed there and checked when it was received
 * @param device on which it was signed
 * @param statement the SHA-256 of what the device signed, in hex
 */
public record OnDevice(Instant signedAt, Instant receivedAt, Instant provenAt, UUID device, String statement) {}
