package ferrule.people;

import java.net.URI;
import java.util.Optional;

/**
 * The OpenID provider at which a school's own accounts are.
 *
 * @param issuer its address, such as {@code https://id.school.example}; https, except on this machine
 * @param clientId as whom Ferrule is known there
 * @param secret that was given out there, if one was
 * @param title by which people know it, such as "Guild account"
 * @param nameClaim the claim that is the name to sign in with here, such as {@code preferred_username}; without one
 *     everyone connects their accounts themselves
 */
public record SchoolProvider(
    URI issuer, String clientId, Optional<String> secret, String title, Optional<String> nameClaim) {

  /** Checks the address. */
  public SchoolProvider {
    boolean here = "localhost".equals(issuer.getHost()) || "127.0.0.1".equals(issuer.getHost());
    if (!"https".equals(issuer.getScheme()) && !(here && "http".equals(issuer.getScheme()))) {
      throw new IllegalArgumentException("an OpenID provider is named by an https address; given: " + issuer);
    }
    if (clientId.isBlank()) {
      throw new IllegalArgumentException("an OpenID provider needs the client id under which it knows Ferrule");
    }
  }
}
