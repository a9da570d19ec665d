#include "server/certificate.h"

#include <arpa/inet.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>
#include <unistd.h>

#include <algorithm>
#include <memory>

#include "core/base/stop.h"

namespace spile::server {
namespace {

template <class T, void (*Free)(T*)>
struct Freeing {
    void operator()(T* p) const { Free(p); }
};
using Bio = std::unique_ptr<BIO, Freeing<BIO, BIO_free_all>>;
using Key = std::unique_ptr<EVP_PKEY, Freeing<EVP_PKEY, EVP_PKEY_free>>;
using X = std::unique_ptr<X509, Freeing<X509, X509_free>>;

constexpr long ten_years_s = 3650L * 24 * 3600;

std::string text_of(BIO* bio) {
    char* data = nullptr;
    const long size = BIO_get_mem_data(bio, &data);
    return {data, static_cast<std::size_t>(std::max(0L, size))};
}

bool is_address(const std::string& name) {
    unsigned char buffer[16];
    return inet_pton(AF_INET, name.c_str(), buffer) == 1 || inet_pton(AF_INET6, name.c_str(), buffer) == 1;
}

std::string alternative_names(const std::vector<std::string>& names) {
    std::string all;
    for (const std::string& name : names)
        all += (all.empty() ? "" : ",") + std::string(is_address(name) ? "IP:" : "DNS:") + name;
    return all;
}

bool extend(X509* certificate, int what, const std::string& value) {
    X509V3_CTX context;
    X509V3_set_ctx(&context, certificate, certificate, nullptr, nullptr, 0);
    X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, what, value.c_str());
    const bool good = extension && X509_add_ext(certificate, extension, -1) == 1;
    X509_EXTENSION_free(extension);
    return good;
}

std::string fingerprint_of(X509* certificate) {
    unsigned char digest[EVP_MAX_MD_SIZE];
    unsigned int size = 0;
    if (X509_digest(certificate, EVP_sha256(), digest, &size) != 1) return "";
    std::string text;
    for (unsigned int i = 0; i < size; ++i) {
        if (i > 0) text += ':';
        text += "0123456789ABCDEF"[digest[i] >> 4];
        text += "0123456789ABCDEF"[digest[i] & 15];
    }
    return text;
}

}  // namespace

Result<Certificate> make_certificate(const std::vector<std::string>& names) {
    const Key key(EVP_EC_gen("P-256"));
    const X x(X509_new());
    unsigned char serial[16];
    bool good = key && x && RAND_bytes(serial, sizeof serial) == 1;
    serial[0] &= 0x7F;  // a serial number is positive
    if (good) {
        const std::unique_ptr<BIGNUM, Freeing<BIGNUM, BN_free>> number(
            BN_bin2bn(serial, sizeof serial, nullptr));
        good = number && BN_to_ASN1_INTEGER(number.get(), X509_get_serialNumber(x.get()));
    }
    good =
        good && X509_set_version(x.get(), 2) == 1 && X509_gmtime_adj(X509_getm_notBefore(x.get()), -3600) &&
        X509_gmtime_adj(X509_getm_notAfter(x.get()), ten_years_s) && X509_set_pubkey(x.get(), key.get()) == 1;
    if (good) {
        X509_NAME* name = X509_get_subject_name(x.get());
        good = X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_UTF8,
                                          reinterpret_cast<const unsigned char*>("Spile, this shop"), -1, -1,
                                          0) == 1 &&
               X509_set_issuer_name(x.get(), name) == 1;
    }
    good = good && extend(x.get(), NID_basic_constraints, "critical,CA:FALSE") &&
           extend(x.get(), NID_subject_alt_name, alternative_names(names)) &&
           X509_sign(x.get(), key.get(), EVP_sha256()) > 0;
    const Bio certificate(BIO_new(BIO_s_mem())), secret(BIO_new(BIO_s_mem()));
    good = good && PEM_write_bio_X509(certificate.get(), x.get()) == 1 &&
           PEM_write_bio_PrivateKey(secret.get(), key.get(), nullptr, nullptr, 0, nullptr, nullptr) == 1;
    if (!good) {
        return Result<Certificate>::refuse(
            stop_finding("certificate", "The certificate for the shop's network could not be made.",
                         "Serve on this computer alone, without --lan.", {"shop", ""}));
    }
    return Result<Certificate>::ok(
        {text_of(certificate.get()), text_of(secret.get()), fingerprint_of(x.get())});
}

std::optional<Certificate> read_certificate(const std::string& certificate_pem, const std::string& key_pem,
                                            const std::vector<std::string>& names) {
    const Bio bio(BIO_new_mem_buf(certificate_pem.data(), static_cast<int>(certificate_pem.size())));
    const X x(bio ? PEM_read_bio_X509(bio.get(), nullptr, nullptr, nullptr) : nullptr);
    if (!x || X509_cmp_current_time(X509_get0_notAfter(x.get())) <= 0) return std::nullopt;
    for (const std::string& name : names) {
        const bool covered = is_address(name)
                                 ? X509_check_ip_asc(x.get(), name.c_str(), 0) == 1
                                 : X509_check_host(x.get(), name.c_str(), name.size(), 0, nullptr) == 1;
        if (!covered) return std::nullopt;
    }
    return Certificate{certificate_pem, key_pem, fingerprint_of(x.get())};
}

std::vector<std::string> lan_names() {
    std::vector<std::string> names;
    ifaddrs* all = nullptr;
    if (getifaddrs(&all) == 0) {
        for (const ifaddrs* a = all; a; a = a->ifa_next) {
            if (!a->ifa_addr || a->ifa_addr->sa_family != AF_INET || (a->ifa_flags & IFF_LOOPBACK)) continue;
            char text[INET_ADDRSTRLEN];
            const auto* in = reinterpret_cast<const sockaddr_in*>(a->ifa_addr);
            if (inet_ntop(AF_INET, &in->sin_addr, text, sizeof text)) names.push_back(text);
        }
        freeifaddrs(all);
    }
    char host[256] = {};
    if (gethostname(host, sizeof host - 1) == 0 && host[0]) names.push_back(host);
    std::sort(names.begin(), names.end());
    names.erase(std::unique(names.begin(), names.end()), names.end());
    return names;
}

}  // namespace spile::server
