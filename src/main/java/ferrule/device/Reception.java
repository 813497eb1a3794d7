package ferrule.device;

import com.fasterxml.jackson.core.JsonProcessingException;
import com.fasterxml.jackson.databind.JsonNode;
import com.fasterxml.jackson.databind.ObjectMapper;
import java.time.Clock;
import java.time.Instant;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Optional;

/**
 * Takes envelopes in: each once, and those of one device in the order in which they were sealed there. Who brings them
 * does not matter, because what is inside says by the device's signature whose it is; so the next person on a shared
 * tablet, who cannot read them, delivers them all the same.
 */
public final class Reception {

  private static final ObjectMapper JSON = new ObjectMapper();

  private final DeviceStore store;
  private final Map<String, Receiver> receivers = new HashMap<>();
  private final Clock clock;

  /** A reception that hands what comes to these features. */
  public Reception(DeviceStore store, List<Receiver> receivers, Clock clock) {
    this.store = store;
    this.clock = clock;
    receivers.forEach(r -> r.kinds().forEach(kind -> this.receivers.put(kind, r)));
  }

  /**
   * Takes an envelope in.
   *
   * @return what became of it, the same however often it is brought; {@link Receipt.State#AGAIN} if it cannot be taken
   *     yet; empty if its device is not known here
   */
  public Optional<Receipt> receive(Envelope envelope) {
    return store.kept(envelope.device()).map(
        device -> store.receipt(envelope.id()).orElseGet(() -> inOrder(envelope, device)));
  }

  private Receipt inOrder(Envelope envelope, DeviceStore.Kept kept) {
    if (envelope.seq() > store.lastSeq(envelope.device()) + 1) {
      return again("What was made on this device before it comes first.");
    }
    try {
      Seals.Content content = Seals.open(envelope, kept.openKey(), kept.device().verifyKey());
      return hand(envelope, kept.device(), content);
    } catch (Seals.UnreadableException e) {
      Receipt held = new Receipt(
          Receipt.State.HELD, "Something came from this device that cannot be opened: " + e.getMessage()
              + ". Nothing of it was entered.", "", Optional.empty());
      return store.note(envelope, clock.instant(), held, "", "");
    }
  }

  private Receipt hand(Envelope envelope, Device device, Seals.Content content) throws Seals.UnreadableException {
    Receiver receiver = receivers.get(envelope.kind());
    JsonNode said = read(content.statement());
    if (receiver == null || !said.path("id").asText().equals(envelope.id().toString())
        || !said.path("device").asText().equals(device.id().toString())) {
      throw new Seals.UnreadableException("it does not say what it is");
    }
    Instant now = clock.instant();
    Receipt receipt = receiver.receive(
        new Delivery(
            envelope.id(), device, envelope.kind(), said, content.statement(), content.pin(), content.photos(), now));
    return receipt.state() == Receipt.State.AGAIN ? receipt
        : store.note(envelope, now, receipt, content.statement(), content.signature());
  }

  private static JsonNode read(String statement) throws Seals.UnreadableException {
    try {
      return JSON.readTree(statement);
    } catch (JsonProcessingException e) {
      throw new Seals.UnreadableException("it is not JSON");
    }
  }

  private static Receipt again(String words) {
    return new Receipt(Receipt.State.AGAIN, words, "", Optional.empty());
  }
}
