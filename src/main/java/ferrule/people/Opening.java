package ferrule.people;

import java.time.Duration;
import java.util.Locale;
import java.util.Optional;
import java.util.UUID;

/**
 * How a session was opened, and on what.
 *
 * @param how by what the person proved who they are
 * @param device in words for its owner, such as "Firefox on Linux"; at most 120 characters
 * @param idle how long it stays open without use
 * @param tablet the shared tablet that it is on, if it is on one
 */
public record Opening(How how, String device, Duration idle, Optional<UUID> tablet) {

  /** How long a session stays open without use, except on a shared tablet. */
  public static final Duration IDLE = Duration.ofHours(12);
  /** How long it stays open without use on a shared tablet. */
  public static final Duration TABLET_IDLE = Duration.ofMinutes(3);

  private static final int LONGEST_DEVICE = 120;

  /** By what a person proves who they are. */
  public enum How {
    /** A password. */
    PASSWORD("password"),
    /** A password and a one-time code. */
    CODE("password and code"),
    /** A passkey. */
    PASSKEY("passkey"),
    /** An account with the school, at its OpenID provider. */
    SCHOOL("school account"),
    /** A link that the coordinator handed over. */
    INVITATION("invitation"),
    /** A PIN, on a shared tablet. */
    PIN("PIN on a shared tablet");

    private final String words;

    How(String words) {
      this.words = words;
    }

    /** In words, such as "password and code". */
    public String words() {
      return words;
    }

    String stored() {
      return name().toLowerCase(Locale.ROOT);
    }

    static How parse(String stored) {
      return valueOf(stored.toUpperCase(Locale.ROOT));
    }
  }

  /** Cuts the device's words to their length. */
  public Opening {
    device = device.length() > LONGEST_DEVICE ? device.substring(0, LONGEST_DEVICE) : device;
  }

  /** On a device of one's own. */
  public static Opening by(How how, String device) {
    return new Opening(how, device, IDLE, Optional.empty());
  }

  /** On a shared tablet, where it closes soon. */
  public Opening onTablet(UUID tabletId) {
    return new Opening(how, device, TABLET_IDLE, Optional.of(tabletId));
  }

  /** The same, after one more proof. */
  public Opening by(How proof) {
    return new Opening(proof, device, idle, tablet);
  }
}
