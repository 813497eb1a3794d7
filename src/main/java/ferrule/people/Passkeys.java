package ferrule.people;

import com.webauthn4j.WebAuthnManager;
import com.webauthn4j.converter.AttestedCredentialDataConverter;
import com.webauthn4j.converter.util.ObjectConverter;
import com.webauthn4j.credential.CredentialRecord;
import com.webauthn4j.credential.CredentialRecordImpl;
import com.webauthn4j.data.AuthenticationData;
import com.webauthn4j.data.AuthenticationParameters;
import com.webauthn4j.data.PublicKeyCredentialParameters;
import com.webauthn4j.data.PublicKeyCredentialType;
import com.webauthn4j.data.RegistrationData;
import com.webauthn4j.data.RegistrationParameters;
import com.webauthn4j.data.attestation.authenticator.AuthenticatorData;
import com.webauthn4j.data.attestation.statement.COSEAlgorithmIdentifier;
import com.webauthn4j.data.attestation.statement.NoneAttestationStatement;
import com.webauthn4j.data.client.CollectedClientData;
import com.webauthn4j.data.client.Origin;
import com.webauthn4j.server.ServerProperty;
import java.util.Base64;
import java.util.List;
import java.util.Optional;
import java.util.Set;

/**
 * What a browser sends about a passkey, checked as the W3C's Web Authentication, level 3, asks (7.1 and 7.2). The device
 * must have made sure who holds it (user verification), so a passkey stands for possession and person both. Where the
 * device comes from is not asked (no attestation).
 *
 * <p>What comes from a browser may be anything, and the library answers what is no JSON, or lacks a part, with
 * exceptions of many kinds, null pointers among them: whatever it throws, the answer does not hold.
 */
final class Passkeys {

  private static final ObjectConverter OBJECTS = new ObjectConverter();
  private static final WebAuthnManager CHECKS = WebAuthnManager.createNonStrictWebAuthnManager(OBJECTS);
  private static final AttestedCredentialDataConverter KEYS = new AttestedCredentialDataConverter(OBJECTS);
  private static final List<PublicKeyCredentialParameters> ALGORITHMS =
      List.of(COSEAlgorithmIdentifier.ES256, COSEAlgorithmIdentifier.EdDSA, COSEAlgorithmIdentifier.RS256).stream()
          .map(algorithm -> new PublicKeyCredentialParameters(PublicKeyCredentialType.PUBLIC_KEY, algorithm))
          .toList();

  private Passkeys() {}

  /**
   * The public half of a key.
   *
   * @param id the credential's id, in base64url
   * @param data attested credential data, in base64url
   * @param backupAble whether it may be copied to other devices of its owner
   * @param count signatures so far; many devices leave it at 0
   */
  record Key(String id, String data, boolean backupAble, long count) {}

  /** The challenge that an answer of a browser was made for; empty if it is no such answer. */
  static Optional<String> challengeOf(String json, boolean registration) {
    try {
      CollectedClientData said =
          registration
              ? CHECKS.parseRegistrationResponseJSON(json).getCollectedClientData()
              : CHECKS.parseAuthenticationResponseJSON(json).getCollectedClientData();
      return Optional.ofNullable(said).map(data -> encoded(data.getChallenge().getValue()));
    } catch (RuntimeException e) {
      return Optional.empty();
    }
  }

  /** The id of the key that an answer was made with, in base64url; only for what {@link #challengeOf} could read. */
  static String idOf(String json) {
    return encoded(CHECKS.parseAuthenticationResponseJSON(json).getCredentialId());
  }

  /** The new key, if all is as it must be for this place and challenge. */
  static Optional<Key> register(String json, PasskeyPlace place, String challenge) {
    try {
      RegistrationData data = CHECKS.parseRegistrationResponseJSON(json);
      CHECKS.verify(data, new RegistrationParameters(property(place, challenge), ALGORITHMS, true, true));
      AuthenticatorData<?> said = data.getAttestationObject().getAuthenticatorData();
      return Optional.of(
          new Key(
              encoded(said.getAttestedCredentialData().getCredentialId()),
              encoded(KEYS.convert(said.getAttestedCredentialData())),
              said.isFlagBE(),
              said.getSignCount()));
    } catch (RuntimeException e) {
      return Optional.empty();
    }
  }

  /** The count of signatures after this one, if the answer was made with this key for this place and challenge. */
  static Optional<Long> verify(String json, Key key, PasskeyPlace place, String challenge) {
    try {
      AuthenticationData data = CHECKS.parseAuthenticationResponseJSON(json);
      CredentialRecord record =
          new CredentialRecordImpl(
              new NoneAttestationStatement(), true, key.backupAble(), false, key.count(),
              KEYS.convert(Base64.getUrlDecoder().decode(key.data())), null, null, null, Set.of());
      CHECKS.verify(data, new AuthenticationParameters(property(place, challenge), record, null, true, true));
      return Optional.of(data.getAuthenticatorData().getSignCount());
    } catch (RuntimeException e) {
      return Optional.empty();
    }
  }

  private static ServerProperty property(PasskeyPlace place, String challenge) {
    return ServerProperty.builder()
        .origin(Origin.create(place.origin()))
        .rpId(place.host())
        .challenge(() -> Base64.getUrlDecoder().decode(challenge))
        .build();
  }

  private static String encoded(byte[] bytes) {
    return Base64.getUrlEncoder().withoutPadding().encodeToString(bytes);
  }
}
